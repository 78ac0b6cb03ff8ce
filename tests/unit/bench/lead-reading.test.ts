import { firstSetup, type KeyedAs, type LengthUnit, type Setup } from '@taptrue/protocol';
import { doubtOf, type TypedBy } from '@taptrue/server/bench/doubt-keyed.ts';
import { readKeyed } from '@taptrue/server/bench/keyed-reading.ts';
import { readLead } from '@taptrue/server/bench/lead-reading.ts';
import { describe, expect, test } from 'vitest';

const THOU: KeyedAs = { kind: 'thousandths', unit: 'in' };
const MICRONS: KeyedAs = { kind: 'thousandths', unit: 'mm' };
const DIVISIONS: KeyedAs = { kind: 'divisions', graduationMm: 0.0127 };
const INCHES: KeyedAs = { kind: 'length', unit: 'in' };
const MILLIMETRES: KeyedAs = { kind: 'length', unit: 'mm' };

const setupOf = (keyedAs: KeyedAs, leadUnit?: LengthUnit | null): Setup => ({
  ...firstSetup(),
  keyedAs,
  ...(leadUnit !== undefined && { leadUnit }),
});

describe('a reading that a lead typed', () => {
  test.each([
    // A thousandth of an inch is 0.0254 mm: 0.1250 in is 3.175 mm, never 0.003175 mm.
    ['0.1250', THOU, 'in', 3.175, 0.00254],
    ['0,1250', THOU, 'in', 3.175, 0.00254],
    ['12.34', THOU, 'mm', 12.34, 0.01],
    ['12,34', DIVISIONS, 'mm', 12.34, 0.01],
    ['-0.0005', MICRONS, 'in', -0.0127, 0.00254],
    ['+12.340', INCHES, 'mm', 12.34, 0.001],
    ['0.1250', INCHES, null, 3.175, 0.00254],
    ['12.34', MILLIMETRES, undefined, 12.34, 0.01],
    ['0.1250in', THOU, 'in', 3.175, 0.00254],
    ['12.34 mm', THOU, null, 12.34, 0.01],
  ] as const)('%j, by hand %j, the lead in %s: %d mm', (text, keyedAs, unit, mm, digitMm) => {
    const read = readLead(text, setupOf(keyedAs, unit));
    if (!read.ok) throw new Error(read.fault.what);
    expect(read.readingMm).toBeCloseTo(mm, 9);
    expect(read.digitMm).toBeCloseTo(digitMm, 9);
  });

  test.each([
    ['0.1250', THOU, null, 'lead-unit-not-set'],
    ['0,1250', MICRONS, undefined, 'lead-unit-not-set'],
    ['12.34', DIVISIONS, null, 'lead-unit-not-set'],
    ['12.34mm', THOU, 'in', 'lead-unit-differs'],
    ['12.34mm', INCHES, null, 'lead-unit-differs'],
    ['0.1250in', INCHES, 'mm', 'lead-unit-differs'],
    ['1,234.5', INCHES, 'in', 'keyed-not-read'],
    ['ERR', THOU, 'in', 'keyed-not-read'],
  ] as const)('%j, by hand %j, the lead in %s: refused, %s', (text, keyedAs, unit, code) => {
    const read = readLead(text, setupOf(keyedAs, unit));
    expect(read).toMatchObject({ ok: false, fault: { code, got: text } });
    if (!read.ok) expect(`${read.fault.what} ${read.fault.remedy}`).toContain('Nothing was taken');
  });
});

describe('typed finer than the shorthand of a hand ever is', () => {
  test.each([
    ['0.1250', THOU],
    ['0,1250', THOU],
    ['0.125', THOU],
    ['12.34', MICRONS],
    ['0.0005', DIVISIONS],
  ])('%j by the rule %j is refused as a length', (text, keyedAs) => {
    expect(readKeyed(text, keyedAs)).toMatchObject({
      ok: false,
      fault: { code: 'keyed-too-fine', got: text },
    });
  });

  test.each([
    ['1.25', THOU],
    ['0,05', THOU],
    ['38.5', MICRONS],
    ['0.25', DIVISIONS],
    ['0.00005', INCHES],
  ])('%j by the rule %j is as fine as hands type', (text, keyedAs) => {
    expect(readKeyed(text, keyedAs).ok).toBe(true);
  });
});

describe('off the reading before it as by another unit', () => {
  const asked = (text: string, before: string, by: TypedBy = 'hand, lengths', unit = INCHES) => {
    const read = readKeyed(text, unit);
    const last = readKeyed(before, unit);
    if (!read.ok || !last.ok) throw new Error('not read');
    return doubtOf(read, { keyed: text, by }, last, 'in');
  };

  test.each([
    ['1.5', '0.0015', '1000 times'],
    ['-1.51', '-0.0015', '1000 times'],
    ['0.00125', '1.2500', 'a thousandth of'],
    ['3.176', '0.1250', '25.4 times'],
    ['0.1251', '3.175', 'a 25.4th of'],
  ])('%s after %s is asked about: %s', (text, before, words) => {
    expect(asked(text, before)).toMatchObject({ code: 'keyed-doubted', got: text });
    expect(asked(text, before)?.what).toContain(`${words} the reading before it`);
  });

  test.each([
    ['0.0030', '0.0015', 'twice'],
    ['0.0100', '0.0004', 'a few counts of the display, times 25'],
    ['-0.0381', '0.0015', 'another sign'],
    ['0.0015', '0', 'after zero'],
    ['0', '0.0015', 'zero'],
    ['0.0300', '0.0010', 'thirty times'],
  ])('%s after %s is not: %s', (text, before) => {
    expect(asked(text, before)).toBeNull();
  });

  test('with nothing before it there is nothing to hold it against', () => {
    const read = readKeyed('1.5', INCHES);
    if (!read.ok) throw new Error('not read');
    expect(doubtOf(read, { keyed: '1.5', by: 'hand, lengths' }, null, 'in')).toBeNull();
  });
});

describe('a length without a decimal mark', () => {
  test.each([
    ['2', INCHES, 'hand, lengths', true],
    ['38', MILLIMETRES, 'hand, lengths', true],
    ['2', MILLIMETRES, 'hand, lengths', false],
    ['0', INCHES, 'hand, lengths', false],
    ['38', MICRONS, 'hand, shorthand', false],
    ['2', MILLIMETRES, 'lead', true],
    ['0000', MILLIMETRES, 'lead', false],
  ] as const)('%s by %j, typed by %s, is asked about: %s', (keyed, keyedAs, by, isAsked) => {
    const read = readKeyed(keyed, keyedAs);
    if (!read.ok) throw new Error('not read');
    const fault = doubtOf(read, { keyed, by }, null, 'mm');
    expect(fault !== null).toBe(isAsked);
  });
});
