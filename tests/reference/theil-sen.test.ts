import { fitLine } from '@taptrue/server/measure/sweep/fit-line.ts';
import { MOST_POINTS_FOR_ROBUST_SLOPE, theilSen } from '@taptrue/server/measure/sweep/robust.ts';
import { TheilSenRegression } from 'ml-regression-theil-sen';
import { linearRegression, median } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { seededNoise } from '../unit/measure/verdict/sweep-of.ts';

describe('the Theil-Sen line', () => {
  // Data of Sen 1968, J. Am. Stat. Assoc. 63, 1379-1389, with the answers of a public library's own test.
  const x = [1, 2, 3, 4, 10, 12, 18];
  const y = [9, 15, 19, 20, 45, 55, 78];

  it("has the slope 4 and the two intercepts 4 and 6 of Sen's data", () => {
    const line = theilSen(x, y)!;
    expect(line.slope).toBe(4);
    expect(line.separateInterceptMm).toBe(4);
    expect(line.interceptMm).toBe(6);
  });

  it("differs from least squares on Sen's data, 4.0213523132 and 5.7046263345 (computed)", () => {
    const outcome = fitLine(x, y);
    if (!outcome.ok) throw new Error(outcome.noLine.what);
    expect(outcome.line.slope).toBeCloseTo(4.0213523132, 9);
    expect(outcome.line.interceptMm).toBeCloseTo(5.7046263345, 9);
  });

  // Same public test.
  it('has slope 0.5 and intercepts 0.5 and 0 for 0, 1, 1 at 0, 1, 2', () => {
    expect(theilSen([0, 1, 2], [0, 1, 1])).toMatchObject({
      slope: 0.5,
      separateInterceptMm: 0.5,
      interceptMm: 0,
    });
  });

  // R datasets, MASS `phones`: six or more gross errors in 24. Computed with another library.
  it('is not dragged off by gross errors as least squares is', () => {
    const years = Array.from({ length: 24 }, (_, index) => 50 + index);
    const calls = [
      4.4, 4.7, 4.7, 5.9, 6.6, 7.3, 8.1, 8.8, 10.6, 12, 13.5, 14.9, 16.1, 21.2, 119, 124, 142, 159,
      182, 212, 43, 24, 27, 29,
    ];
    const line = theilSen(years, calls)!;
    expect(line.slope).toBeCloseTo(1.3875, 10);
    expect(line.separateInterceptMm).toBeCloseTo(-69.83125, 9);
    expect(line.interceptMm).toBeCloseTo(-67.98125, 9);
  });
});

describe('other libraries on the same points', () => {
  const { uniform, normal } = seededNoise(7);
  const sets = Array.from({ length: 20 }, (_, set) => {
    const count = 5 + set;
    const xs = Array.from({ length: count }, () => 127 * uniform());
    return { count, xs, ys: xs.map((x) => 0.0003 * x + 0.003 * normal()) };
  });

  it.each(sets)('agree on the robust and the least-squares line of $count points', ({ xs, ys }) => {
    const ours = theilSen(xs, ys)!;
    const slopes = xs.flatMap((x, i) =>
      xs.slice(i + 1).map((other, j) => (ys[i + 1 + j]! - ys[i]!) / (other - x)),
    );
    expect(ours.slope).toBeCloseTo(median(slopes), 14);
    const heights = xs.map((x, index) => ys[index]! - ours.slope * x);
    expect(ours.interceptMm).toBeCloseTo(median(heights), 12);
    const outcome = fitLine(xs, ys);
    if (!outcome.ok) throw new Error(outcome.noLine.what);
    const plain = linearRegression(xs.map((x, index) => [x, ys[index]!]));
    expect(outcome.line.slope).toBeCloseTo(plain.m, 14);
    expect(outcome.line.interceptMm).toBeCloseTo(plain.b, 12);
  });

  // That library takes the lower of the two middle values where their number is even, so it is asked only
  // where both the pairs and the points are odd in number.
  it.each(sets.filter(({ count }) => count % 4 === 3))(
    'of robust lines agree for $count points',
    ({ xs, ys }) => {
      const theirs = new TheilSenRegression(xs, ys);
      const ours = theilSen(xs, ys)!;
      expect(ours.slope).toBeCloseTo(theirs.slope, 14);
      expect(ours.interceptMm).toBeCloseTo(theirs.intercept, 12);
    },
  );

  it('still agree where our points are thinned to the limit', () => {
    const xs = Array.from({ length: 3000 }, (_, index) => index * 0.05);
    const ys = xs.map((x) => 0.0003 * x + 0.003 * normal());
    const ours = theilSen(xs, ys)!;
    expect(ours.pointsUsed).toBe(MOST_POINTS_FOR_ROBUST_SLOPE);
    expect(Math.abs(ours.slope - 0.0003)).toBeLessThan(2e-5);
  });
});
