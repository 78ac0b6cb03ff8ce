import { medianInPlace } from '@taptrue/server/measure/sweep/median.ts';
import {
  LEAST_POINTS_FOR_OUTLIERS,
  outliers,
  theilSen,
} from '@taptrue/server/measure/sweep/robust.ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededNoise } from '../verdict/sweep-of.ts';

describe('the median', () => {
  it('is the middle of the sorted values, or the mean of the two middle ones', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.oneof(fc.double({ noNaN: true, min: -9, max: 9 }), fc.integer({ min: 0, max: 3 })),
          { minLength: 1 },
        ),
        (values) => {
          const sorted = [...values].sort((a, b) => a - b);
          const half = sorted.length >> 1;
          const expected =
            sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
          expect(medianInPlace(Float64Array.from(values)) === expected).toBe(true);
        },
      ),
    );
  });
});

describe('points far off the robust line', () => {
  const { normal } = seededNoise(3);
  const xs = Array.from({ length: 12 }, (_, i) => i * 10);

  it.each([0, 5, 11])('are named wherever they stand (point %d)', (odd) => {
    const ys = xs.map((x, i) => 0.0002 * x + 0.001 * normal() + (i === odd ? 0.05 : 0));
    expect(outliers(xs, ys, theilSen(xs, ys)!, 0)).toEqual([odd]);
  });

  it('are all named where two spoil the fit together', () => {
    const ys = xs.map((x, i) => 0.0002 * x + 0.001 * normal() + (i === 3 || i === 4 ? 0.05 : 0));
    expect(outliers(xs, ys, theilSen(xs, ys)!, 0)).toEqual([3, 4]);
  });

  it('are not seen in the last digit of exact points, nor in a flicker of one count', () => {
    const exact = xs.map((x) => 0.1 + 0.0003 * x);
    expect(outliers(xs, exact, theilSen(xs, exact)!, 0)).toEqual([]);
    const flicker = xs.map((_, i) => (i === 4 ? 0.00254 : 0));
    expect(outliers(xs, flicker, theilSen(xs, flicker)!, 0.00254)).toEqual([]);
  });

  it('are not told apart among too few', () => {
    const few = xs.slice(0, LEAST_POINTS_FOR_OUTLIERS - 1);
    const ys = few.map((_, i) => (i === 2 ? 1 : 0));
    expect(outliers(few, ys, theilSen(few, ys)!, 0)).toEqual([]);
  });

  it('cannot be asked for where there is no slope', () => {
    expect(theilSen([4, 4, 4], [1, 2, 3])).toBeNull();
  });
});
