import { formatLength } from '@taptrue/protocol';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { Hands } from './hands.ts';
import { closeBrowser, openPage, type RunningBench, runBench, until } from './running-bench.ts';

let bench: RunningBench;
afterEach(() => bench.close());
afterAll(closeBrowser);

describe('a stranger does the whole job on the simulated bench', () => {
  it('with a readout: nudges, sweeps, mallet, stages, until it is true at tight', async () => {
    bench = await runBench({ demo: true, demoSeed: 5 });
    const { page, complaints } = await openPage(bench.url);
    const hands = new Hands(page, bench);
    expect(await page.getByText('SIMULATED').first().isVisible()).toBe(true);

    await hands.nudgeSaddle();
    await hands.nudgeTable();

    for (const stage of ['nipped', 'snug', 'tight']) {
      if (bench.state().bench.stage !== stage) await hands.setStage(stage);
      for (let round = 0; round < 5; round += 1) {
        await hands.press(bench.state().sweep === null ? 'Begin the sweep' : 'Sweep again');
        await until('the sweep begins', () => bench.state().sweep?.state === 'being taken');
        await hands.goTo('Sweep');
        await hands.traverse();
        await hands.press('End the sweep');
        await until('the sweep has ended', () => bench.state().sweep?.state === 'ended');
        if (bench.state().sweep?.result?.verdict === 'true') break;
        await hands.goTo('Tap');
        await hands.tapUntilTold();
      }
    }

    await until('the job is true', () => bench.state().bench.job.standing === 'true');
    const { result } = bench.state().sweep!;
    const shown = formatLength(Math.abs(result!.endToEndMm), 'in', { bare: true });
    await page.getByText('wrench off').first().waitFor();
    expect(await page.getByText(shown, { exact: true }).first().isVisible()).toBe(true);
    expect(await page.getByText(result!.sentence).first().isVisible()).toBe(true);
    expect(bench.state().history.sweeps.every((sweep) => sweep.simulated)).toBe(true);
    expect(complaints).toEqual([]);
  }, 180_000);

  it('the number beside the needle is the number on the wire', async () => {
    bench = await runBench({ demo: true, demoSeed: 9 });
    const { page, complaints } = await openPage(bench.url);
    await until('the indicator is live', () => bench.state().links.indicator.state === 'live');
    // Pulled off the wire, the last reading stands still and can be compared at leisure.
    await bench.command({ kind: 'disconnect', link: 'readout' });
    for (const xMm of [0, 40, 90, 127]) {
      await bench.command({ kind: 'demo', do: { act: 'table to', xMm } });
      await page.waitForTimeout(200);
      const [onPage, onWire] = await Promise.all([
        page.evaluate(() => document.querySelector('straight-gauge')?.textContent ?? ''),
        Promise.resolve(bench.state().live.indicator!.value!),
      ]);
      const number = Number(onPage.replace('−', '-').match(/[-+]?\d+\.\d+/)?.[0]);
      // Noise goes on between the two looks: within four counts of the last digit sent.
      expect(Math.abs(number - onWire)).toBeLessThan(0.0002);
    }
    expect(complaints).toEqual([]);
  }, 60_000);
});
