import { type CirclePoint, fitCircle } from '@taptrue/server/set-ups/circle/fit-circle.ts';
import { linearRegression, mean } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../unit/devices/formats/seeded-bytes.ts';

const RAD = Math.PI / 180;

function fitOf(points: readonly CirclePoint[]) {
  const outcome = fitCircle(points);
  if (!outcome.ok) throw new Error(outcome.fault.what);
  return outcome.fit;
}

/** Readings of a wave at given places, with a noise of their own. */
function readings(anglesDeg: readonly number[], seed: number): CirclePoint[] {
  const random = seededRandom(seed);
  return anglesDeg.map((angleDeg) => ({
    angleDeg,
    readingMm: 25.4 + 0.03 * Math.cos((angleDeg - 211) * RAD) + (random() - 0.5) * 0.01,
  }));
}

const EVEN = Array.from({ length: 12 }, (_each, index) => 30 * index);
const UNEVEN = [0, 17, 40, 95, 133, 180, 181, 240, 275, 300, 344, 359];

/** What is left of `ys` after a line on `xs`, by simple-statistics. */
function leftOf(xs: readonly number[], ys: readonly number[]): number[] {
  const { m, b } = linearRegression(xs.map((x, index) => [x, ys[index]!]));
  return ys.map((y, index) => y - m * xs[index]! - b);
}

/** Slope on the first of two variables, the second taken out of both first (Frisch and Waugh 1933, from memory). */
function partialSlope(
  xs: readonly number[],
  others: readonly number[],
  ys: readonly number[],
): number {
  const left = leftOf(others, ys);
  return linearRegression(leftOf(others, xs).map((x, index) => [x, left[index]!])).m;
}

/** Normal equations of mean, cosine and sine solved by elimination; gives also their inverse. */
function byElimination(points: readonly CirclePoint[]) {
  const rows = points.map(({ angleDeg }) => [
    1,
    Math.cos(angleDeg * RAD),
    Math.sin(angleDeg * RAD),
  ]);
  const table = [0, 1, 2].map((i) => [
    ...[0, 1, 2].map((j) => rows.reduce((sum, row) => sum + row[i]! * row[j]!, 0)),
    points.reduce((sum, { readingMm }, at) => sum + rows[at]![i]! * readingMm, 0),
    ...[0, 1, 2].map((j) => (i === j ? 1 : 0)),
  ]);
  for (let pivot = 0; pivot < 3; pivot += 1) {
    const scale = table[pivot]![pivot]!;
    table[pivot] = table[pivot]!.map((value) => value / scale);
    for (let row = 0; row < 3; row += 1) {
      if (row === pivot) continue;
      const factor = table[row]![pivot]!;
      table[row] = table[row]!.map((value, at) => value - factor * table[pivot]![at]!);
    }
  }
  const solved = table.map((row) => row[3]!);
  const squares = points.reduce((sum, { readingMm }, at) => {
    const fitted = rows[at]!.reduce((total, value, i) => total + value * solved[i]!, 0);
    return sum + (readingMm - fitted) ** 2;
  }, 0);
  return {
    solved,
    s: Math.sqrt(squares / (points.length - 3)),
    inverse: table.map((r) => r.slice(4)),
  };
}

describe('the first harmonic against an independent least squares', () => {
  it.each([
    ['even', EVEN],
    ['uneven', UNEVEN],
    ['with places read twice', [...EVEN, ...EVEN.slice(0, 5)]],
  ])('simple-statistics gives the same cosine and sine: %s', (_name, angles) => {
    const points = readings(angles, 7);
    const fit = fitOf(points);
    const cos = angles.map((deg) => Math.cos(deg * RAD));
    const sin = angles.map((deg) => Math.sin(deg * RAD));
    const r = points.map(({ readingMm }) => readingMm);
    const a = partialSlope(cos, sin, r);
    const b = partialSlope(sin, cos, r);
    expect(fit.cosMm).toBeCloseTo(a, 11);
    expect(fit.sinMm).toBeCloseTo(b, 11);
    expect(fit.meanMm).toBeCloseTo(mean(r) - a * mean(cos) - b * mean(sin), 10);
    expect(fit.amplitudeMm).toBeCloseTo(Math.hypot(a, b), 11);
    expect(Math.cos((fit.towardDeg - (Math.atan2(b, a) * 180) / Math.PI) * RAD)).toBeCloseTo(1, 12);
  });

  it.each([1, 2, 3, 4, 5])('elimination gives the same, with its uncertainty: seed %d', (seed) => {
    const points = readings(UNEVEN, seed);
    const fit = fitOf(points);
    const { solved, s, inverse } = byElimination(points);
    expect(fit.meanMm).toBeCloseTo(solved[0]!, 10);
    expect(fit.cosMm).toBeCloseTo(solved[1]!, 10);
    expect(fit.sinMm).toBeCloseTo(solved[2]!, 10);
    expect(fit.residualStandardDeviationMm).toBeCloseTo(s, 10);
    // The worst direction of cosine and sine, by trying them all.
    const worst = Math.max(
      ...Array.from({ length: 3600 }, (_each, index) => {
        const [c, d] = [Math.cos((index / 10) * RAD), Math.sin((index / 10) * RAD)];
        const [i11, i12, i22] = [inverse[1]![1]!, inverse[1]![2]!, inverse[2]![2]!];
        return Math.sqrt(c * c * i11 + 2 * c * d * i12 + d * d * i22);
      }),
    );
    expect(fit.worstFactor).toBeCloseTo(worst, 6);
  });
});

// Roundness of a trace at equally spaced angles: R = mean of r, a = 2/N sum r cos, b = 2/N sum r sin, deviation
// r - R - a cos - b sin. Printed so in an encyclopaedia's article on roundness, and as the approximate
// least-squares circle of the standards on roundness, those from memory.
describe('the least-squares circle of equally spaced readings', () => {
  it.each([4, 7, 8, 12, 36])('with %d places', (count) => {
    const points = readings(
      Array.from({ length: count }, (_each, index) => (index * 360) / count),
      count,
    );
    const fit = fitOf(points);
    const sum = (of: (deg: number) => number) =>
      points.reduce((total, { angleDeg, readingMm }) => total + readingMm * of(angleDeg), 0);
    const a = (2 / count) * sum((deg) => Math.cos(deg * RAD));
    const b = (2 / count) * sum((deg) => Math.sin(deg * RAD));
    const r = sum(() => 1) / count;
    expect(fit.cosMm).toBeCloseTo(a, 10);
    expect(fit.sinMm).toBeCloseTo(b, 10);
    expect(fit.meanMm).toBeCloseTo(r, 10);
    points.forEach(({ angleDeg, readingMm }, index) => {
      const deviation = readingMm - r - a * Math.cos(angleDeg * RAD) - b * Math.sin(angleDeg * RAD);
      expect(fit.residualsMm[index]).toBeCloseTo(deviation, 10);
    });
    // Even spacing: u of either figure is s times the root of 2/n.
    expect(fit.worstFactor).toBeCloseTo(Math.sqrt(2 / count), 12);
  });

  it('covers the true amplitude in 95 of 100, where it is well above the scatter', () => {
    let inside = 0;
    for (let seed = 0; seed < 2000; seed += 1) {
      const points = readings(EVEN, seed + 1);
      const fit = fitOf(points);
      // t(0.975; 9), printed as 2.26 in NIST TN 1297, Table B.1.
      const expanded = 2.2621571628 * fit.residualStandardDeviationMm! * fit.worstFactor;
      if (Math.abs(fit.amplitudeMm - 0.03) <= expanded) inside += 1;
    }
    expect(inside / 2000).toBeGreaterThan(0.94);
    expect(inside / 2000).toBeLessThan(0.97);
  });
});
