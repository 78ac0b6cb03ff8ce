import type { SweepResult } from '@taptrue/protocol';
import { blendPivots, pivotFromTwoLines } from '@taptrue/server/measure/verdict/pivot.ts';
import type { SweepInput } from '@taptrue/server/measure/verdict/sweep-input.ts';
import { describe, expect, it } from 'vitest';
import { resultOf, seededNoise, stations, sweepOf } from './sweep-of.ts';

const BOUNDS = {
  viseLeftMm: -20,
  viseRightMm: 147,
  displayUnit: 'mm' as const,
};

/** A sweep of a bar that turns about `pivotMm`, as evidence. */
function evidence(
  slope: number,
  pivotMm: number,
  noise: () => number,
  options: { count?: number; zeroMm?: number; known?: Partial<SweepInput> } = {},
): SweepResult {
  const points = stations(
    options.count ?? 20,
    (x) => 0.05 + slope * (x - pivotMm) + noise() + (options.zeroMm ?? 0),
  );
  return resultOf(sweepOf(points, options.known ?? {}));
}

describe('the pivot learned from the sweeps before and after a tap', () => {
  const { normal } = seededNoise(21);
  const noise = () => 0.00127 * normal();

  it.each([-30, 0, 40, 63.5, 120, 200])('is where the bar turned: %d mm', (pivotMm) => {
    const learned = pivotFromTwoLines(
      evidence(0.0006, pivotMm, noise),
      evidence(0.00005, pivotMm, noise),
      BOUNDS,
    );
    if (!learned.ok) throw new Error(learned.why);
    expect(Math.abs(learned.xMm - pivotMm)).toBeLessThan(4 * learned.uncertaintyMm);
    expect(learned.uncertaintyMm).toBeLessThan(8);
    expect(learned.turnRad).toBeLessThan(0);
  });

  // Delta method against simulation: the scatter of many learned pivots is what each says of itself.
  it('is as uncertain as it says', () => {
    const pivots: number[] = [];
    let said = 0;
    for (let tap = 0; tap < 400; tap += 1) {
      const learned = pivotFromTwoLines(
        evidence(0.0006, 30, noise),
        evidence(0.00005, 30, noise),
        BOUNDS,
      );
      if (!learned.ok) throw new Error(learned.why);
      pivots.push(learned.xMm);
      said += learned.uncertaintyMm / 400;
    }
    const mean = pivots.reduce((sum, x) => sum + x / 400, 0);
    const scatter = Math.sqrt(pivots.reduce((sum, x) => sum + (x - mean) ** 2 / 399, 0));
    expect(Math.abs(mean - 30)).toBeLessThan(0.3);
    expect(said / scatter).toBeGreaterThan(0.85);
    expect(said / scatter).toBeLessThan(1.25);
  });

  it('can be learned from two stations each, where something is known of the indicator', () => {
    const pair = (known: Partial<SweepInput>) =>
      pivotFromTwoLines(
        evidence(0.0006, 30, () => 0, { count: 2, known }),
        evidence(0.0001, 30, () => 0, { count: 2, known }),
        BOUNDS,
      );
    expect(pair({ resolutionMm: 0.00254 })).toMatchObject({ ok: true, xMm: expect.closeTo(30, 9) });
    expect(pair({})).toMatchObject({ ok: false, why: expect.stringContaining('nothing is known') });
  });
});

describe('a pivot is not learned', () => {
  const { normal } = seededNoise(22);
  const noise = () => 0.00127 * normal();

  it('from a turn too small to tell', () => {
    const learned = pivotFromTwoLines(
      evidence(0.0006, 30, noise),
      evidence(0.000602, 30, noise),
      BOUNDS,
    );
    expect(learned).toMatchObject({ ok: false, why: expect.stringContaining('too small') });
  });

  it('from lines that cross more than a bar length beyond the vise', () => {
    const rezeroed = evidence(0.0001, 30, noise, { zeroMm: 0.4 });
    const learned = pivotFromTwoLines(evidence(0.0006, 30, noise), rezeroed, BOUNDS);
    expect(learned).toMatchObject({ ok: false, why: expect.stringContaining('beyond the vise') });
  });
});

describe('blending with the declared pivot', () => {
  it('weighs by inverse variance', () => {
    expect(blendPivots({ xMm: 0, uncertaintyMm: 2 }, { xMm: 10, uncertaintyMm: 1 })).toEqual({
      xMm: 8,
      uncertaintyMm: expect.closeTo(Math.sqrt(0.8), 12),
    });
  });

  it('lets a figure without uncertainty stand', () => {
    expect(blendPivots({ xMm: 0, uncertaintyMm: 2 }, { xMm: 10, uncertaintyMm: 0 }).xMm).toBe(10);
    expect(blendPivots({ xMm: 3, uncertaintyMm: 0 }, { xMm: 10, uncertaintyMm: 1 }).xMm).toBe(3);
  });
});
