import { coverageFactor95 } from '@taptrue/server/measure/verdict/student-t.ts';
import { driftOf, LEAST_FOR_TREND } from '@taptrue/server/records/archive/drift.ts';
import { FAIR_NUMBER_OF_JOBS } from '@taptrue/server/records/archive/learned.ts';
import { spreadOf, standardDeviationKnownWithin } from '@taptrue/server/records/archive/spread.ts';
import { linearRegression, mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { seededNoise } from '../unit/measure/verdict/sweep-of.ts';

describe('how well a standard deviation is known', () => {
  // JCGM 100:2008 (GUM), Table E.1, percent, from memory: the observations n and sigma of s over sigma.
  it.each([
    [2, 76],
    [3, 52],
    [4, 42],
    [5, 36],
    [10, 24],
    [20, 16],
    [30, 13],
    [50, 10],
  ])('from %i figures: to %i %%', (count, percent) => {
    expect(Math.round(100 * standardDeviationKnownWithin(count))).toBe(percent);
  });
});

describe('mean and spread', () => {
  const { normal } = seededNoise(5);
  const sets = Array.from({ length: 20 }, (_, set) => ({
    values: Array.from({ length: 2 + set }, () => 140 + 12 * normal()),
  }));

  // Another library (simple-statistics) on the same figures.
  it.each(sets)('of $values.length figures are those of another library', ({ values }) => {
    const spread = spreadOf(values)!;
    expect(spread.mean).toBeCloseTo(mean(values), 10);
    expect(spread.standardDeviation!).toBeCloseTo(sampleStandardDeviation(values), 10);
  });

  it('by hand: 2, 4, 4, 4, 5, 5, 7, 9 have the mean 5 and squares of 32 about it', () => {
    expect(spreadOf([2, 4, 4, 4, 5, 5, 7, 9])).toEqual({
      count: 8,
      mean: 5,
      standardDeviation: Math.sqrt(32 / 7),
    });
  });

  it('one figure has no spread, none has nothing', () => {
    expect(spreadOf([3])).toEqual({ count: 1, mean: 3, standardDeviation: null });
    expect(spreadOf([])).toBeNull();
  });

  it('figures far from zero keep their digits', () => {
    const spread = spreadOf([1e9 + 1, 1e9 + 2, 1e9 + 3])!;
    expect(spread.standardDeviation).toBeCloseTo(1, 12);
  });
});

describe('drift', () => {
  const day = (n: number) => new Date(Date.UTC(2026, 0, 1 + n)).toISOString();
  const point = (n: number, arcsec: number) => ({
    job: `job-${n}`,
    jobNumber: n,
    endedAt: day(n),
    arcsec,
    expandedArcsec: 3,
  });

  // Another library (simple-statistics) on the same points; days since 1970 on its side too.
  it('is the slope that another library fits', () => {
    const { normal } = seededNoise(8);
    const points = Array.from({ length: 30 }, (_, i) => point(4 * i, 2 + 0.1 * i + 2 * normal()));
    const days = points.map(({ endedAt, arcsec }) => [Date.parse(endedAt) / 86_400_000, arcsec]);
    const { trend } = driftOf('mill', points);
    expect(trend!.arcsecPerMonth).toBeCloseTo(30 * linearRegression(days).m, 9);
  });

  it('is told where it is larger than it is known to', () => {
    const points = [0, 10, 20, 30, 40].map((n) => point(n, n / 10 + (n % 20 === 0 ? 0.1 : -0.1)));
    const drift = driftOf('mill', points);
    expect(drift.trend!.arcsecPerMonth).toBeCloseTo(3, 1);
    expect(drift.words).toContain('counter-clockwise a month');
  });

  it('is not told of what only scatters', () => {
    const points = [0, 10, 20, 30, 40, 50].map((n, i) => point(n, i % 2 === 0 ? 5 : -5));
    expect(driftOf('mill', points).words).toContain('show no drift');
  });

  it.each([
    ['too few', [0, 30, 60, 90], LEAST_FOR_TREND - 1],
    ['within too few days', [0, 1, 2, 3, 4, 5], 6],
  ])('no trend is fitted where there are %s', (_case, days, count) => {
    const drift = driftOf(
      '',
      days.map((n) => point(n, n)),
    );
    expect([drift.trend, drift.points.length]).toEqual([null, count]);
    expect(drift.words).toContain('too few for a trend');
  });
});

// The reason for the number: the mean is known (95 %) to within one spread from seven jobs on, not from six.
it('a fair number of jobs is the fewest whose mean is known to within their spread', () => {
  const known = (jobs: number) => coverageFactor95(jobs - 1) / Math.sqrt(jobs);
  expect(known(FAIR_NUMBER_OF_JOBS)).toBeLessThan(1);
  expect(known(FAIR_NUMBER_OF_JOBS - 1)).toBeGreaterThan(1);
});
