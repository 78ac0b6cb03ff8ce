import { radiansFromArcsec } from '@taptrue/protocol';
import { guardFactor, judge } from '@taptrue/server/measure/verdict/verdict.ts';
import { describe, expect, it } from 'vitest';

// One-sided guard band at 95 %: factor 1.65 of ISO 14253-1 (from memory), 1.64 in conformity guides,
// 1.644854 computed. The example below is computed, not published: limit ±60″, u 6″, accepted to 50.131″.
const verdictAt = (
  arcsec: number,
  u: number | null,
  rule: 'guarded' | 'plain' = 'guarded',
  degreesOfFreedom: number | null = null,
) =>
  judge(
    radiansFromArcsec(arcsec),
    u === null ? null : radiansFromArcsec(u),
    radiansFromArcsec(60),
    rule,
    degreesOfFreedom,
  ).verdict;

describe('a limit of 60″ with a standard uncertainty of 6″', () => {
  it('is guarded by the one-sided 95 % factor', () => {
    expect(guardFactor(null)).toBeCloseTo(1.644854, 5);
  });

  // One-sided 95 % points of Student's t, as printed in statistics handbooks (from memory).
  it.each([
    [1, 6.314],
    [2, 2.92],
    [3, 2.353],
    [5, 2.015],
    [7, 1.895],
    [10, 1.812],
    [30, 1.697],
  ])('with %d degrees of freedom by %d', (freedom, printed) => {
    expect(guardFactor(freedom)).toBeCloseTo(printed, 3);
    expect(verdictAt(60 - 6 * printed - 0.01, 6, 'guarded', freedom)).toBe('true');
    expect(verdictAt(60 - 6 * printed + 0.01, 6, 'guarded', freedom)).toBe('too close to call');
    expect(verdictAt(60 + 6 * printed + 0.01, 6, 'guarded', freedom)).toBe('not true');
  });

  it.each([
    [0, 'true'],
    [50.1, 'true'],
    [-50.1, 'true'],
    [50.2, 'too close to call'],
    [52, 'too close to call'],
    [60, 'too close to call'],
    [-69.8, 'too close to call'],
    [69.9, 'not true'],
    [-69.9, 'not true'],
    [200, 'not true'],
  ] as const)('calls %d″ %s', (arcsec, verdict) => {
    expect(verdictAt(arcsec, 6)).toBe(verdict);
  });

  it.each([
    [52, 'true'],
    [60, 'true'],
    [-60.01, 'not true'],
  ] as const)('compared plainly calls %d″ %s', (arcsec, verdict) => {
    expect(verdictAt(arcsec, 6, 'plain')).toBe(verdict);
    expect(verdictAt(arcsec, null, 'plain')).toBe(verdict);
  });

  it('names the plain comparison on the record', () => {
    expect(judge(0, 0, 1, 'plain', null).cautions.map((caution) => caution.code)).toEqual([
      'plain-comparison',
    ]);
    expect(judge(0, 0, 1, 'guarded', null).cautions).toEqual([]);
  });

  it('cannot be called while nothing is known of the uncertainty', () => {
    expect(verdictAt(0, null)).toBe('too close to call');
    expect(judge(0, null, 1, 'guarded', null).cautions).toMatchObject([
      { code: 'uncertainty-not-known' },
    ]);
  });
});
