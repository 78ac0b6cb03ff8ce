import { fitLine, peakToValleyMm } from '@taptrue/server/measure/sweep/fit-line.ts';
import { minimumZone } from '@taptrue/server/measure/sweep/minimum-zone.ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

const point = fc.tuple(
  fc.integer({ min: 0, max: 40 }),
  fc.double({ min: -1, max: 1, noNaN: true }),
);
const cloud = fc
  .array(point, { minLength: 2, maxLength: 30 })
  .filter((points) => new Set(points.map(([x]) => x)).size > 1);

/** The width for the slope of every pair of points: slow, plainly right. */
function byEveryPair(points: readonly (readonly [number, number])[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (const [x1, y1] of points) {
    for (const [x2, y2] of points) {
      if (x1 === x2) continue;
      const slope = (y2 - y1) / (x2 - x1);
      const heights = points.map(([x, y]) => y - slope * x);
      best = Math.min(best, Math.max(...heights) - Math.min(...heights));
    }
  }
  return best;
}

describe('minimum-zone straightness', () => {
  it('is what trying every pair of points gives, and never more than by least squares', () => {
    fc.assert(
      fc.property(cloud, (points) => {
        const xs = points.map(([x]) => x);
        const ys = points.map(([, y]) => y);
        const { widthMm } = minimumZone(xs, ys);
        expect(widthMm).toBeCloseTo(byEveryPair(points), 9);
        const outcome = fitLine(xs, ys);
        if (!outcome.ok) throw new Error(outcome.noLine.what);
        expect(widthMm).toBeLessThanOrEqual(peakToValleyMm(outcome.line.residualsMm) + 1e-9);
      }),
      { numRuns: 400 },
    );
  });

  it('is nothing for two points and for points on a line', () => {
    expect(minimumZone([0, 10], [3, 7])).toEqual({ widthMm: 0, slope: 0.4 });
    expect(minimumZone([0, 1, 2, 3], [0, 2, 4, 6]).widthMm).toBeCloseTo(0, 14);
  });

  it('holds repeated positions at the ends', () => {
    expect(minimumZone([0, 0, 10, 10], [0, 1, 0, 1]).widthMm).toBe(1);
  });
});
