import { arcsecFromRadians, toMm } from '@taptrue/protocol';
import { limitRad } from '@taptrue/server/measure/verdict/verdict.ts';
import { describe, expect, it } from 'vitest';
import { resultOf, sweepOf } from '../unit/measure/verdict/sweep-of.ts';

const inch = (value: number) => toMm(value, 'in');

describe('small angles as the shop meets them', () => {
  it.each([
    // Level maker's sheet after JIS B 7510 (maker withheld): 4.85 µm; computed 4.84813681.
    ['4.85 µm over 1 m', 0.00484813681, 1000, 1],
    // Same sheet: precision levels of 0.02, 0.05 and 0.1 mm/m are about 4″, 10″ and 20″; computed here.
    ['0.02 mm over 1 m', 0.02, 1000, 4.125],
    ['0.05 mm over 1 m', 0.05, 1000, 10.313],
    ['0.1 mm over 1 m', 0.1, 1000, 20.626],
    // Autocollimator lecture: 0.5 µm over 100 mm is 1″; computed 0.484814 µm.
    ['0.484814 µm over 100 mm', 0.000484814, 100, 1],
    // Computed.
    ['.001 in over 5 in', inch(0.001), inch(5), 41.25296],
    ['.0005 in over 6 in', inch(0.0005), inch(6), 17.18873],
    ['.0001 in over 5 in', inch(0.0001), inch(5), 4.1253],
    ['0.002 mm over 100 mm', 0.002, 100, 4.1253],
  ])('%s is the known number of seconds', (_name, riseMm, overMm, arcsec) => {
    const result = resultOf(
      sweepOf([
        { xMm: 0, readingMm: 0 },
        { xMm: overMm, readingMm: riseMm },
      ]),
    );
    expect(result.outOfTrueArcsec).toBeCloseTo(arcsec, 2);
    expect(result.endToEndMm).toBeCloseTo(riseMm, 12);
    expect(
      arcsecFromRadians(limitRad({ kind: 'end to end', mm: riseMm, overMm: null }, overMm)),
    ).toBeCloseTo(arcsec, 2);
  });
});
