import type { NoiseKind } from '@taptrue/simulators/noisy-line.ts';
import { describe, expect, it } from 'vitest';
import { hearNoise } from './noise.ts';

const KINDS: NoiseKind[] = ['any byte', 'printing characters'];
/** From a crackle now and then to a line at 9600 baud that never rests. */
const DENSITIES: [bytesPerSecond: number, seeds: number][] = [
  [3, 8],
  [40, 4],
  [250, 2],
  [960, 2],
];
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
