import type { KeyedAs } from '@taptrue/protocol';
import { readKeyed } from '@taptrue/server/bench/keyed-reading.ts';
import { describe, expect, test } from 'vitest';

const INCHES: KeyedAs = { kind: 'length', unit: 'in' };
const MILLIMETRES: KeyedAs = { kind: 'length', unit: 'mm' };
const THOU: KeyedAs = { kind: 'thousandths', unit: 'in' };
const MICRONS: KeyedAs = { kind: 'thousandths', unit: 'mm' };
/** A dial of .0005 in. */
const HALF_THOU_DIAL: KeyedAs = { kind: 'divisions', graduationMm: 0.0127 };

describe('a typed reading', () => {
  test.each([
    ['0.0015', INCHES, 0.0381, 0.00254],
    [',0015', INCHES, 0.0381, 0.00254],
    ['-,0015', INCHES, -0.0381, 0.00254],
    ['−.0015', INCHES, -0.0381, 0.00254],
    ['+0.0015', INCHES, 0.0381, 0.00254],
    ['0', INCHES, 0, 25.4],
    ['1,5', MILLIMETRES, 1.5, 0.1],
    ['0.038', MILLIMETRES, 0.038, 0.001],
    ['1,5', THOU, 0.0381, 0.00254],
    ['1.5', THOU, 0.0381, 0.00254],
    ['-2', THOU, -0.0508, 0.0254],
    ['38', MICRONS, 0.038, 0.001],
    ['+3', HALF_THOU_DIAL, 0.0381, 0.0127],
    ['-0.5', HALF_THOU_DIAL, -0.00635, 0.00127],
    ['  0.0015  ', INCHES, 0.0381, 0.00254],
  ])('%j by the rule %j is %d mm, its last digit %d mm', (text, rule, mm, digitMm) => {
    const read = readKeyed(text, rule);
    if (!read.ok) throw new Error(read.fault.got);
    expect(read.readingMm).toBeCloseTo(mm, 12);
    expect(read.digitMm).toBeCloseTo(digitMm, 12);
  });

  test.each([
    ['0.04mm', INCHES, 0.04, 0.01],
    ['0.0015 in', MILLIMETRES, 0.0381, 0.00254],
    ['0.0015"', MILLIMETRES, 0.0381, 0.00254],
    ['-1,5 thou', MILLIMETRES, -0.0381, 0.00254],
    ['38um', INCHES, 0.038, 0.001],
  ])('%j with its unit behind it wins over the rule %j: %d mm', (text, rule, mm, digitMm) => {
    const read = readKeyed(text, rule);
    if (!read.ok) throw new Error(read.fault.got);
    expect(read.readingMm).toBeCloseTo(mm, 12);
    expect(read.digitMm).toBeCloseTo(digitMm, 12);
  });

  test.each([
    ['1,234.5', INCHES],
    ['0.00.15', INCHES],
    ['1.5 mm', THOU],
    ['3 mm', HALF_THOU_DIAL],
    ['5deg', INCHES],
    ['5 furlongs', INCHES],
    ['', INCHES],
    ['  ', INCHES],
    ['+', INCHES],
    ['.', INCHES],
    ['1e-3', INCHES],
    ['0x1F', INCHES],
    ['NaN', INCHES],
    ['Infinity', INCHES],
    ['one', INCHES],
    ['0.0015 0.0016', INCHES],
    ['+3 div', HALF_THOU_DIAL],
  ])('%j by the rule %j is refused, quoted, and an example is given', (text, rule) => {
    const read = readKeyed(text, rule);
    expect(read).toMatchObject({ ok: false, fault: { code: 'keyed-not-read', got: text.trim() } });
    if (!read.ok) expect(read.fault.remedy).toMatch(/^Type it as .*Nothing was taken\.$/);
  });
});
