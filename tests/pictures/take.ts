/**
 * Takes the pictures of the README from a running simulated bench, always the same vise, so that they show
 * what a reader will see: `npm run pictures`.
 */
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Command } from '@taptrue/protocol';
import { closeBrowser, openPage, runBench, until } from '../browser/whole-job/running-bench.ts';

const FOLDER = fileURLToPath(new URL('.', import.meta.url));
const SEED = 5;

const bench = await runBench({ demo: true, demoSeed: SEED, name: 'mill by the window' });
const { page } = await openPage(bench.url, 1280, 800);

const rest = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const act = (what: Extract<Command, { kind: 'demo' }>['do']) =>
  bench.command({ kind: 'demo', do: what });

async function picture(name: string, place: string): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = hash;
    window.scrollTo(0, 0);
  }, place);
  await rest(600);
  await page.screenshot({ path: join(FOLDER, `${name}.png`) });
}

async function sweepOutAndBack(): Promise<void> {
  await act({ act: 'table to', xMm: 0 });
  await rest(300);
  await bench.command({ kind: 'begin sweep' });
  for (const toMm of [127, 0]) {
    await act({ act: 'traverse', toMm, mmPerSecond: 40 });
    await until('the table stands', () => bench.state().demo?.traversing === false);
    await rest(200);
  }
  await bench.command({ kind: 'end sweep' });
}

async function tapTo(enough: (remainingMm: number) => boolean): Promise<void> {
  for (let blows = 0; blows < 40; blows += 1) {
    const { tap } = bench.state();
    if (tap?.standing !== 'keep tapping') return;
    const wantedMm = tap.remainingAtMalletMm!;
    if (enough(Math.abs(wantedMm))) return;
    await act({
      act: 'strike',
      xMm: bench.state().setup.malletMm,
      way: wantedMm > 0 ? 'away' : 'toward',
      blow: Math.abs(wantedMm) > 0.12 ? 'firm' : Math.abs(wantedMm) > 0.04 ? 'medium' : 'light',
    });
    await rest(400);
  }
}

await rest(500);
await bench.command({
  kind: 'change card',
  change: { jobNumber: 'W-1042', part: 'Wedge plate', machine: 'Mill by the window, 6 in vise' },
});
await bench.command({
  kind: 'change plan',
  change: {
    job: 'Wedge plate',
    referenceLine: 'the long ground edge',
    angle: { text: '7deg30min', kind: 'angle' },
    tolerance: { kind: 'angle', text: '5min' },
  },
});
await picture('plan', 'plan');

await bench.command({ kind: 'begin nudge', nudge: 'y' });
await act({ act: 'saddle', towardColumnMm: 0.127 });
await rest(300);
await bench.command({ kind: 'finish nudge', nudge: 'y', movedMm: 0.127 });
await act({ act: 'table to', xMm: 40 });
await rest(300);
await bench.command({ kind: 'begin nudge', nudge: 'x' });
await act({ act: 'table to', xMm: 0 });
await rest(300);
await bench.command({ kind: 'finish nudge', nudge: 'x' });

await sweepOutAndBack();
await picture('sweep-not-true', 'sweep');

await act({ act: 'table to', xMm: 127 });
await rest(300);
await bench.command({ kind: 'park', xMm: 127 });
await tapTo((remainingMm) => remainingMm < 0.25);
await picture('tap', 'tap');
await tapTo(() => false);

const nextStage = { free: 'nipped', nipped: 'snug', snug: 'tight', tight: 'tight' } as const;
for (let round = 0; round < 12 && bench.state().bench.job.standing !== 'true'; round += 1) {
  await sweepOutAndBack();
  const { stage } = bench.state().bench;
  if (bench.state().sweep?.result?.verdict === 'true') {
    await bench.command({ kind: 'set stage', stage: nextStage[stage] });
    continue;
  }
  await bench.command({ kind: 'set stage', stage: 'nipped' });
  await act({ act: 'table to', xMm: 127 });
  await rest(300);
  await bench.command({ kind: 'park', xMm: 127 });
  await tapTo(() => false);
}
const { standing } = bench.state().bench.job;
await picture('true-at-tight', 'sweep');
await page.evaluate(() => {
  location.hash = 'proof';
});
await page.getByRole('button', { name: /^Sweeps of / }).click();
await picture('proof', 'proof');
await picture('devices', 'devices');

await page.close();
await closeBrowser();
await bench.close();
console.log(`Pictures are in ${FOLDER}; the job stands at "${standing}".`);
