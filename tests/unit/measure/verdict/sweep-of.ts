import type { SweepResult } from '@taptrue/protocol';
import { judgeSweep } from '@taptrue/server/measure/verdict/judge-sweep.ts';
import type { SweepInput, SweepPoint } from '@taptrue/server/measure/verdict/sweep-input.ts';

/** A sweep of one pass in millimetres, nothing known of the indicator, nothing asked but the line. */
export function sweepOf(points: SweepPoint[], changes: Partial<SweepInput> = {}): SweepInput {
  return {
    passes: [{ pass: 'out', points }],
    axis: 'x',
    displayUnit: 'mm',
    rises: 'away',
    stylusFactor: 1,
    targetSlope: 0,
    pivot: null,
    malletMm: null,
    parked: null,
    limit: null,
    decisionRule: 'guarded',
    resolutionMm: null,
    permissibleErrorMm: null,
    repeatabilityMm: null,
    rangeMm: null,
    pointsAre: 'single readings',
    ...changes,
  };
}

export function resultOf(input: SweepInput): SweepResult {
  const judged = judgeSweep(input);
  if (!judged.ok) throw new Error(judged.noLine.what);
  return judged.result;
}

export function codesOf(input: SweepInput): string[] {
  return resultOf(input).cautions.map((caution) => caution.code);
}

/** Points equally spaced over 127 mm, their readings from a function of x. */
export function stations(count: number, readingMm: (xMm: number) => number): SweepPoint[] {
  return Array.from({ length: count }, (_, index) => {
    const xMm = (127 * index) / (count - 1);
    return { xMm, readingMm: readingMm(xMm) };
  });
}

/** Decimal digits that agree. */
export function digitsRight(got: number, expected: number): number {
  return got === expected ? 17 : -Math.log10(Math.abs(got / expected - 1));
}

/** Seeded uniform numbers in 0...1 (mulberry32), and normal ones from them: the same tests every time. */
export function seededNoise(seed: number) {
  let state = seed | 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}
