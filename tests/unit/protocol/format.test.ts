import {
  formatAngle,
  formatLength,
  formatSlope,
  fromMm,
  MM_PER_INCH,
  parseAngleRad,
  radiansFromArcsec,
  toMm,
} from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';

describe('units', () => {
  test('an inch is 25.4 mm, both ways', () => {
    // Exactly, by the agreement of July 1959.
    expect(MM_PER_INCH).toBe(25.4);
    expect(toMm(5, 'in')).toBe(127);
    expect(fromMm(127, 'in')).toBe(5);
    expect(toMm(5, 'mm')).toBe(5);
    expect(fromMm(5, 'mm')).toBe(5);
  });

  test('a whole turn is 1,296,000 seconds of arc', () => {
    expect(radiansFromArcsec(1_296_000)).toBeCloseTo(2 * Math.PI, 14);
  });
});

describe('a length in words', () => {
  test.each([
    [0.08636, 'in', {}, '0.0034 in'],
    [0.08636, 'mm', {}, '0.086 mm'],
    [-0.08636, 'in', {}, '−0.0034 in'],
    [0.05334, 'in', { plus: true, bare: true }, '+0.0021'],
    [127, 'in', {}, '5.0000 in'],
    [0, 'mm', {}, '0.000 mm'],
    [-0, 'mm', {}, '0.000 mm'],
    [-0.0004, 'mm', {}, '0.000 mm'],
    [-0.0004, 'mm', { plus: true }, '+0.000 mm'],
    [1.5, 'mm', { decimals: 0 }, '2 mm'],
  ] as const)('%d mm in %s with %j reads %s', (mm, unit, options, words) => {
    expect(formatLength(mm, unit, options)).toBe(words);
  });

  test.each(['mm', 'in'] as const)(
    'on a gauge in %s is as wide below zero, at it and above',
    (unit) => {
      const wide = [-0.2, -0.00001, 0, 0.00001, 0.2].map(
        (mm) => formatLength(mm, unit, { plus: true, bare: true }).length,
      );
      expect(new Set(wide).size).toBe(1);
    },
  );
});

describe('an angle in words', () => {
  test.each([
    [0, '0° 0′ 0.0″'],
    [-0.01, '0° 0′ 0.0″'],
    [5.25, '0° 0′ 5.3″'],
    [9.94, '0° 0′ 9.9″'],
    [9.96, '0° 0′ 10″'],
    [41.25, '0° 0′ 41″'],
    [-41.25, '−0° 0′ 41″'],
    // Rounding is carried up: never sixty seconds, never sixty minutes.
    [59.6, '0° 1′ 0″'],
    [3599.7, '1° 0′ 0″'],
    [45_000, '12° 30′ 0″'],
  ])('%d seconds of arc read %s', (arcsec, words) => {
    expect(formatAngle(radiansFromArcsec(arcsec))).toBe(words);
  });

  test('with a sign asked for shows plus above zero', () => {
    expect(formatAngle(radiansFromArcsec(20), { plus: true })).toBe('+0° 0′ 20″');
    expect(formatAngle(radiansFromArcsec(-20), { plus: true })).toBe('−0° 0′ 20″');
  });

  test.each([0, 3.1, 41, -41, 3600, 45_015, -86_399])(
    '%d seconds of arc can be read back from their words',
    (arcsec) => {
      const read = parseAngleRad(formatAngle(radiansFromArcsec(arcsec)));
      expect(read.ok && read.value).toBeCloseTo(radiansFromArcsec(arcsec), 9);
    },
  );
});

describe('a slope in words', () => {
  test.each([
    [0.0002, 'mm', '0.200 mm/m'],
    [-0.0002, 'mm', '−0.200 mm/m'],
    [0.0002, 'in', '0.0024 in/ft'],
    [-0.0000001, 'mm', '0.000 mm/m'],
    [-0.000001, 'in', '0.0000 in/ft'],
    [0, 'mm', '0.000 mm/m'],
  ] as const)('%d reads in %s as %s', (slope, unit, words) => {
    expect(formatSlope(slope, unit)).toBe(words);
  });
});
