import { buildBench } from '@taptrue/simulators/bench-build.ts';
import { surfaceMm, turned, viseAt } from '@taptrue/simulators/vise.ts';
import { expect, test } from 'vitest';

const SPAN_MM = 127;

/** End to end left after one pass by an ideal hand, as a part of what it was before. */
function leftAfterOnePass(pivotMm: number, share: number): number {
  const { vise: drawn } = buildBench({ seed: 1 });
  const pivots = { free: pivotMm, nipped: pivotMm, snug: pivotMm, tight: pivotMm };
  const vise = { ...drawn, pivotMm: pivots, pivotAcrossMm: 0, bowMm: 0 };
  const lying = viseAt(vise, 1e-4, 'nipped');
  const endToEnd = (state: typeof lying) =>
    surfaceMm(vise, state, SPAN_MM)! - surfaceMm(vise, state, 0)!;
  const before = endToEnd(lying);
  // The surface at the far end is brought back by the share of what the dial shows there.
  const turnRad = (-share * before) / (SPAN_MM - pivotMm);
  return endToEnd(turned(lying, turnRad, { xMm: pivotMm, yMm: 0 })) / before;
}

// Derived from the geometry; that people chase zero is common practice, no source.
test.each([
  { pivot: 'at the zeroed end', atMm: 0, toZero: 0, toHalf: 0.5 },
  { pivot: 'a quarter of the way', atMm: SPAN_MM / 4, toZero: -1 / 3, toHalf: 1 / 3 },
  { pivot: 'midway, the swivel base', atMm: SPAN_MM / 2, toZero: -1, toHalf: 0 },
  { pivot: 'three quarters of the way', atMm: (3 * SPAN_MM) / 4, toZero: -3, toHalf: -1 },
  { pivot: 'half a span beyond the zeroed end', atMm: -SPAN_MM / 2, toZero: 1 / 3, toHalf: 2 / 3 },
])('pivot $pivot: tapping to zero leaves $toZero of it, tapping half out $toHalf', (row) => {
  expect(leftAfterOnePass(row.atMm, 1)).toBeCloseTo(row.toZero, 5);
  expect(leftAfterOnePass(row.atMm, 0.5)).toBeCloseTo(row.toHalf, 5);
});
