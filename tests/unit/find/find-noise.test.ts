import { type NoiseKind, noisyLine } from '@taptrue/simulators/noisy-line.ts';
import { describe, expect, it } from 'vitest';
import { passUntil, searchOn } from './found-device.ts';
import { OneClock } from './one-clock.ts';

const KINDS: NoiseKind[] = ['any byte', 'printing characters'];
/** From a crackle now and then to a line at 9600 baud that never rests. */
const DENSITIES: [bytesPerSecond: number, seeds: number][] = [
  [3, 8],
  [40, 4],
  [250, 2],
  [960, 2],
];
/** Listening through all settings, slowly as well, and some waiting for a key. The benchmark has many more. */
const LONGEST_MS = 150_000;

async function hearNoise(kind: NoiseKind, bytesPerSecond: number, seed: number) {
  const clock = new OneClock();
  let drawn = seed * 1000;
  const { find } = searchOn({
    clock,
    waitForKeyMs: 10_000,
    pipeFor: () => {
      // Other noise at every setting.
      drawn += 1;
      return noisyLine({ kind, bytesPerSecond, seed: drawn }, clock);
    },
  });
  const questionOf = () => (find.now.step?.kind === 'question' ? find.now.step : null);
  await passUntil(clock, LONGEST_MS, () => questionOf() !== null || find.now.ending !== null);
  const question = questionOf();
  const named = question
    ? `seed ${seed}: ${question.candidate.shape.name} ${question.candidate.sample.text}`
    : '';
  const { ending } = find.now;
  await find.close();
  return { named, fault: ending?.kind === 'nothing' ? ending.fault.code : 'none' };
}

describe('noise on an open line', () => {
  for (const kind of KINDS) {
    it.each(DENSITIES)(`names no shape: ${kind}, %i bytes a second`, async (density, seeds) => {
      const named: string[] = [];
      const faults = new Set<string>();
      for (let seed = 1; seed <= seeds; seed += 1) {
        const heard = await hearNoise(kind, density, seed);
        if (heard.named) named.push(heard.named);
        faults.add(heard.fault);
      }
      expect(named).toEqual([]);
      for (const fault of faults) expect(fault).toMatch(/^find-/);
    });
  }
});
