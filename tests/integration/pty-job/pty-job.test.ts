import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import type { BenchState, RecordEntry, Stage } from '@taptrue/protocol';
import { STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { noPtyBecause } from '../link/pty-device.ts';
import { recordsIn } from '../service/running-service.ts';
import { Hand } from './hand.ts';
import { Program } from './programs.ts';

const BAR_MM = 127;
/** End to end over a 5 in bar: common practice, no source. */
const LIMIT_MM = 0.0254;
const MOST_SWEEPS = 10;

const why = noPtyBecause();
if (why !== null) console.warn(`Skipped, the job on pseudo-terminals: ${why}.`);

/** What the record of the data folder's only bench says, oldest first. */
async function recordOf(dataFolder: string): Promise<RecordEntry[]> {
  const files = await readdir(dataFolder, { recursive: true });
  const store = files.find((file) => basename(file) === STORE_FILE)!;
  return (await recordsIn(join(dataFolder, dirname(store)))).flat();
}

describe.skipIf(why !== null)('a job on the bytes of another program', () => {
  let folder: string;
  let machine: Program;
  let service: Program;
  let hand: Hand;
  let afterJob: BenchState;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'taptrue-pty-job-'));
    const link = join(folder, 'port');
    machine = new Program(
      ...['simulate', '--device', 'both', '--rate', '100', '--seed', '5'],
      ...['--out-of-true', '0.008in', '--traverse', '80mm/s', '--link', link],
    );
    await machine.says(/quit or Ctrl-C ends/);
    service = new Program(
      ...['serve', '--port', '0', '--data', join(folder, 'data')],
      ...['--indicator', `${link}-indicator`, '--readout', `${link}-readout`],
    );
    const [, url] = await service.says(/is open at (http:\/\/localhost:\d+\/)/);
    hand = new Hand(url!, machine);
  });

  afterAll(async () => {
    await Promise.all([service?.stop(), machine?.stop()]);
    await rm(folder, { recursive: true, force: true });
  });

  test('both devices are understood, and nothing is called simulated that came through a port', async () => {
    const { bench, links } = await hand.links('live');
    expect(bench.simulated).toBe(false);
    expect(links.indicator.counters.framesNotUnderstood).toBe(0);
    expect(service.said).not.toContain('SIMULATED');
  });

  test('two nudges and two marks settle sign, unit, scale and counting', async () => {
    await hand.command({ kind: 'change setup', change: { way: 'readout', entry: 'device' } });
    await hand.settleSenses(BAR_MM);
    const { setup, nudges } = await hand.state();
    expect(nudges).toMatchObject({ y: { state: 'done' }, x: { state: 'done' } });
    expect(setup.rises).not.toBeNull();
    expect(setup.counts).not.toBeNull();
    expect(setup.sweptLengthMm).toBeCloseTo(BAR_MM, 1);
  }, 55_000);

  test('unplugged in mid-sweep it is seen, plugged in again it goes on, and nothing taken is lost', async () => {
    await hand.tighten('nipped');
    let before = 0;
    const result = await hand.sweep(BAR_MM, async () => {
      const taken = (await hand.state()).sweep!;
      before = taken.samples;
      expect(before).toBeGreaterThan(10);
      await machine.type('unplug');
      const lost = await hand.links('lost');
      expect(lost.sweep).toMatchObject({ state: 'being taken', id: taken.id });
      expect(lost.sweep!.samples).toBeGreaterThanOrEqual(before);
      expect(lost.live.indicator).toBeNull();
      await machine.type('replug');
      const back = await hand.links('live');
      expect(back.links.indicator.counters.reconnects).toBe(1);
    });
    const { sweep } = await hand.state();
    expect(sweep!.samples).toBeGreaterThan(before);
    expect(result.fromMm).toBeLessThan(1);
    expect(result.toMm).toBeGreaterThan(BAR_MM - 1);
    expect(Math.abs(result.endToEndMm)).toBeGreaterThan(LIMIT_MM);
    expect(result.verdict).toBe('not true');
  }, 40_000);

  test('tapped as advised and tightened by stages it is true at tight, and not before', async () => {
    const stages: Stage[] = ['nipped', 'snug', 'tight'];
    let at = 0;
    let verdict: string | null = 'not true';
    for (let sweeps = 1; sweeps <= MOST_SWEEPS; sweeps += 1) {
      if (verdict === 'true') {
        expect((await hand.state()).bench.job.standing).toBe('loose');
        at += 1;
        await hand.tighten(stages[at]!);
      } else {
        if (stages[at] === 'tight') {
          at -= 1;
          await hand.tighten(stages[at]!);
        }
        await hand.tapUntilStop(BAR_MM);
      }
      verdict = (await hand.sweep(BAR_MM)).verdict;
      if (verdict === 'true' && stages[at] === 'tight') break;
    }
    afterJob = await hand.state();
    expect(afterJob.bench.job.standing).toBe('true');
    expect(afterJob.sweep).toMatchObject({ stage: 'tight', result: { verdict: 'true' } });
    expect(afterJob.history.sweeps.length).toBeGreaterThan(2);
  }, 90_000);

  test('both programs end when told, and the record holds every reading and every sweep', async () => {
    expect(await service.stop()).toBe(0);
    expect(await machine.stop()).toBe(0);
    const record = await recordOf(join(folder, 'data'));
    const sweeps = record.filter((entry) => entry.entry === 'sweep ended');
    expect(sweeps.length).toBe(afterJob.history.sweeps.length);
    expect(sweeps.at(-1)).toMatchObject({ stage: 'tight', result: { verdict: 'true' } });
    const sequences = record.flatMap((entry) =>
      entry.entry === 'reading' && entry.link === 'indicator' ? [entry.reading.sequence] : [],
    );
    expect(sequences).toEqual(sequences.map((_, index) => index));
    expect(record.filter((entry) => entry.entry === 'link')).toContainEqual(
      expect.objectContaining({
        link: 'indicator',
        report: expect.objectContaining({ state: 'lost' }),
      }),
    );
  });
});
