import { fitLine, LEAST_TRAVEL_MM, type LineFit } from '@taptrue/server/measure/sweep/fit-line.ts';
import { theilSen } from '@taptrue/server/measure/sweep/robust.ts';
import { judgeSweep } from '@taptrue/server/measure/verdict/judge-sweep.ts';
import { describe, expect, it } from 'vitest';
import { digitsRight, sweepOf } from '../unit/measure/verdict/sweep-of.ts';

// NIST/ITL Statistical Reference Datasets, linear regression, Norris.dat, certified values. The file's
// columns are y, then x; here (x, y).
const NORRIS = `
0.2,0.1  337.4,338.8  118.2,118.1  884.6,888.0  10.1,9.2  226.5,228.1  666.3,668.5  996.3,998.5  448.6,449.1
777.0,778.9  558.2,559.2  0.4,0.3  0.6,0.1  775.5,778.1  666.9,668.8  338.0,339.3  447.5,448.9  11.6,10.8
556.0,557.7  228.1,228.3  995.8,998.0  887.6,888.8  120.2,119.6  0.3,0.3  0.3,0.6  556.8,557.6  339.1,339.3
887.2,888.0  999.0,998.5  779.0,778.9  11.1,10.2  118.3,117.6  229.2,228.9  669.1,668.4  448.9,449.2  0.5,0.2`
  .trim()
  .split(/\s+/)
  .map((pair) => pair.split(',').map(Number) as [number, number]);
const xs = NORRIS.map(([x]) => x);
const ys = NORRIS.map(([, y]) => y);

function lineOf(offset = 0): LineFit {
  const outcome = fitLine(
    xs.map((x) => x + offset),
    ys,
  );
  if (!outcome.ok) throw new Error(outcome.noLine.what);
  return outcome.line;
}

describe('the NIST Norris data set', () => {
  const line = lineOf();

  it.each([
    ['slope', line.slope, 1.00211681802045, 12],
    ['intercept', line.interceptMm, -0.262323073774029, 11],
    ['standard error of the slope', line.slopeStandardError, 0.429796848199937e-3, 11],
    ['standard error of the intercept', line.interceptStandardErrorMm, 0.232818234301152, 11],
    ['residual standard deviation', line.residualStandardDeviationMm, 0.884796396144373, 11],
    ['residual sum of squares', line.sumSquaresResidualMm2, 26.6173985294224, 11],
    // Worked out to 40 digits from the same data; the certified page gives no covariance.
    ['covariance', line.slopeInterceptCovarianceMm, -7.74327536315644e-5, 11],
  ] as const)('gives the %s to the certified digits', (_name, got, certified, digits) => {
    expect(digitsRight(got!, certified)).toBeGreaterThan(digits);
  });

  // Measured: raw sums lose all digits at epoch-sized x, an ordinary library keeps 8.7 at 1e6.
  it.each([
    [1e6, 12],
    [1.7e9, 8],
  ])('keeps the slope when positions carry an offset of %d', (offset, digits) => {
    expect(digitsRight(lineOf(offset).slope, 1.00211681802045)).toBeGreaterThan(digits);
  });

  // Computed with two independent libraries.
  it('has the Theil-Sen line that other libraries give', () => {
    const robust = theilSen(xs, ys)!;
    expect(robust.slope).toBeCloseTo(1.0021968365553604, 13);
    expect(robust.separateInterceptMm).toBeCloseTo(-0.0640158172232, 9);
    expect(robust.interceptMm).toBeCloseTo(-0.3010984182777, 9);
  });

  it('is read out of order and steep, which is said and not refused', () => {
    const judged = judgeSweep(
      sweepOf(
        NORRIS.map(([x, y]) => ({ xMm: x, readingMm: y })),
        { rises: 'away' },
      ),
    );
    if (!judged.ok) throw new Error(judged.noLine.what);
    const codes = judged.result.cautions.map((caution) => caution.code);
    expect(codes).toEqual(expect.arrayContaining(['positions-out-of-order', 'steep-slope']));
    expect(digitsRight(judged.result.slope, 1.00211681802045)).toBeGreaterThan(12);
  });
});

describe('a line through exact points', () => {
  const places = Array.from({ length: 101 }, (_, index) => index);
  // Relative errors measured for centred sums: 8e-16 to 3e-8 for these offsets and steps.
  it.each([
    ['0 to 100 mm', 1, 0, 1e-14],
    ['a monotonic clock in milliseconds, one hour in', 10, 3.6e6, 1e-12],
    ['epoch milliseconds', 10, 1.7e12, 1e-9],
    ['epoch seconds with a tenth of a second between', 0.1, 1.7e9, 1e-6],
  ])('has its slope with x as %s', (_name, step, offset, relative) => {
    const x = places.map((place) => offset + place * step);
    const y = places.map((place) => 3 + 0.0002 * place * step);
    const outcome = fitLine(x, y);
    if (!outcome.ok) throw new Error(outcome.noLine.what);
    expect(Math.abs(outcome.line.slope / 0.0002 - 1)).toBeLessThan(relative);
  });

  it('is refused, not divided by nothing, where there is no travel', () => {
    for (const x of [
      [5, 5, 5],
      [5, 5 + LEAST_TRAVEL_MM / 2, 5],
    ]) {
      const outcome = fitLine(x, [1, 2, 3]);
      expect(outcome).toMatchObject({ ok: false, noLine: { code: 'not-enough-travel' } });
    }
  });
});
