import { parseAngleRad, parseLengthMm, parseNumber } from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';

describe('a plain number', () => {
  test.each([
    ['0.0015', 0.0015],
    [',0015', 0.0015],
    ['.5', 0.5],
    ['1,5', 1.5],
    ['+3', 3],
    ['-1,5', -1.5],
    ['−2', -2],
    ['  7 ', 7],
    ['5.', 5],
    ['0', 0],
  ])('%j is read as %d', (text, value) => {
    expect(parseNumber(text)).toEqual({ ok: true, value });
  });

  test.each([
    '',
    '   ',
    '.',
    ',',
    '+',
    '-',
    '--1',
    '+-1',
    '1,234.5',
    '1.2.3',
    '1..2',
    '1 2',
    '0.5mm',
    '1e3',
    '0x10',
    'NaN',
    'Infinity',
    '٣',
    '½',
    'abc',
  ])('%j is refused, and the refusal quotes it', (text) => {
    const parsed = parseNumber(text);
    expect(parsed.ok).toBe(false);
    if (!parsed.ok) expect(parsed.why).toContain(`"${text}"`);
  });
});

describe('a length', () => {
  // The inch is exactly 25.4 mm (agreement of July 1959).
  test.each([
    ['150mm', 150],
    ['150 mm', 150],
    ['1.5cm', 15],
    ['0.1m', 100],
    ['25um', 0.025],
    ['25µm', 0.025],
    ['1in', 25.4],
    ['1 inch', 25.4],
    ['5"', 127],
    ['0.001in', 0.0254],
    ['1thou', 0.0254],
    [',5 mm', 0.5],
    ['-3um', -0.003],
    ['−3 MM', -3],
    ['+1IN', 25.4],
  ])('%j is %d mm', (text, mm) => {
    const parsed = parseLengthMm(text);
    expect(parsed.ok && parsed.value).toBeCloseTo(mm, 12);
  });

  test.each([
    ['5', 'has no unit'],
    ['-0.5', 'has no unit'],
    ['5ft', 'not a unit of length'],
    ['5deg', 'not a unit of length'],
    ['5 parsec', 'not a unit of length'],
    ['mm', 'not a length'],
    ['', 'not a length'],
    ['1,234.5mm', 'not a length'],
    ['1e3mm', 'not a length'],
    ['5mm 3mm', 'not a length'],
    ['NaNmm', 'not a length'],
  ])('%j is refused: %s', (text, why) => {
    const parsed = parseLengthMm(text);
    expect(parsed.ok).toBe(false);
    if (!parsed.ok) expect(parsed.why).toContain(why);
  });
});

describe('an angle', () => {
  const arcsec = Math.PI / 648_000;
  test.each([
    ['20arcsec', 20 * arcsec],
    ['20"', 20 * arcsec],
    ['20″', 20 * arcsec],
    ['1min', 60 * arcsec],
    ["1'", 60 * arcsec],
    ['0.5°', 1800 * arcsec],
    ['0,5deg', 1800 * arcsec],
    ['12deg30min', 45_000 * arcsec],
    ['12° 30′ 15″', 45_015 * arcsec],
    ['-12deg30min', -45_000 * arcsec],
    ['−20arcsec', -20 * arcsec],
    ['+1deg', 3600 * arcsec],
    ['2mrad', 0.002],
    ['3urad', 3e-6],
    ['0.1rad', 0.1],
    ['1DEG', 3600 * arcsec],
  ])('%j is %d rad', (text, rad) => {
    const parsed = parseAngleRad(text);
    expect(parsed.ok && parsed.value).toBeCloseTo(rad, 12);
  });

  test.each([
    ['', 'empty'],
    ['-', 'empty'],
    ['20', 'has no unit'],
    ['12deg30', 'has no unit'],
    ['5mm', 'not a unit of angle'],
    ['30min12deg', 'out of order'],
    ['12deg12deg', 'out of order'],
    ['1sec1min', 'out of order'],
    ['abc', 'not an angle'],
    ['- 5deg', 'not an angle'],
    ['--5deg', 'not an angle'],
    ['5deg-30min', 'not an angle'],
  ])('%j is refused: %s', (text, why) => {
    const parsed = parseAngleRad(text);
    expect(parsed.ok).toBe(false);
    if (!parsed.ok) expect(parsed.why).toContain(why);
  });
});
