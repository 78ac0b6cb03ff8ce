import {
  coverageFactor95,
  NORMAL_95,
  studentT,
} from '@taptrue/server/measure/verdict/student-t.ts';
import { describe, expect, it } from 'vitest';

// NIST TN 1297, Table B.1 (the same as GUM Table G.2). The columns headed 68.27, 95.45 and 99.73 are the
// exact fractions within 1, 2 and 3 sigma of the normal distribution.
const FRACTIONS = [0.6826894921370859, 0.9, 0.95, 0.9544997361036416, 0.99, 0.9973002039367398];
const TABLE = `
1 1.84 6.31 12.71 13.97 63.66 235.80
2 1.32 2.92 4.30 4.53 9.92 19.21
3 1.20 2.35 3.18 3.31 5.84 9.22
4 1.14 2.13 2.78 2.87 4.60 6.62
5 1.11 2.02 2.57 2.65 4.03 5.51
6 1.09 1.94 2.45 2.52 3.71 4.90
7 1.08 1.89 2.36 2.43 3.50 4.53
8 1.07 1.86 2.31 2.37 3.36 4.28
9 1.06 1.83 2.26 2.32 3.25 4.09
10 1.05 1.81 2.23 2.28 3.17 3.96
12 1.04 1.78 2.18 2.23 3.05 3.76
15 1.03 1.75 2.13 2.18 2.95 3.59
16 1.03 1.75 2.12 2.17 2.92 3.54
20 1.03 1.72 2.09 2.13 2.85 3.42
30 1.02 1.70 2.04 2.09 2.75 3.27
50 1.01 1.68 2.01 2.05 2.68 3.16
100 1.005 1.660 1.984 2.025 2.626 3.077`
  .trim()
  .split('\n')
  .map((row) => row.split(' '));

describe("Student's t", () => {
  it.each(TABLE)('has the printed factors for %s degrees of freedom', (freedom, ...printed) => {
    printed.forEach((text, column) => {
      const decimals = text.split('.')[1]!.length;
      const t = studentT((1 + FRACTIONS[column]!) / 2, Number(freedom));
      expect(Math.abs(t - Number(text))).toBeLessThanOrEqual(0.500001 * 10 ** -decimals);
    });
  });

  it('has the factors of the last row where degrees of freedom are large', () => {
    [1, 1.645, 1.96, 2, 2.576, 3].forEach((printed, column) => {
      expect(studentT((1 + FRACTIONS[column]!) / 2, null)).toBeCloseTo(printed, 3);
    });
  });

  // Computed with another library, two-sided 95 %.
  it.each([
    [1, 12.7062047362],
    [2, 4.3026527297],
    [3, 3.182446305],
    [8, 2.3060041352],
    [9, 2.2621571628],
    [16, 2.1199052992],
    [34, 2.0322445093],
  ])('has the 95 % factor for %d degrees of freedom to ten figures', (freedom, t) => {
    expect(coverageFactor95(freedom)).toBeCloseTo(t, 8);
  });

  it('runs smoothly into the normal factor', () => {
    expect(coverageFactor95(null)).toBe(NORMAL_95);
    expect(coverageFactor95(1e6)).toBeCloseTo(NORMAL_95, 5);
    expect(coverageFactor95(8.5)).toBeGreaterThan(coverageFactor95(9));
    expect(coverageFactor95(8.5)).toBeLessThan(coverageFactor95(8));
  });
});
