import { firstQuestion } from '@taptrue/protocol';
import { readAngleText, readWrittenAngle } from '@taptrue/server/plan/angle/read-angle.ts';
import { readLength } from '@taptrue/server/plan/exact-length.ts';
import { checkTaken } from '@taptrue/server/plan/make-plan.ts';
import { STANDARD_SETS } from '@taptrue/server/plan/sets/standard-sets.ts';
import { describe, expect, it } from 'vitest';

const arcsecOf = (text: string) => {
  const read = readAngleText('angle', text);
  return read.ok ? read.value : read.fault.code;
};

describe('an angle as prints write it', () => {
  it.each([
    ["12º30'", 45_000],
    ["12˚30'", 45_000],
    ['12° 30′', 45_000],
    ['12°30´15"', 45_015],
    ['12°30’15’’', 45_015],
    ["12°30'15''", 45_015],
    ['12°30′15″', 45_015],
    ['12 1/2deg', 45_000],
    ['12-1/2°', 45_000],
    ['12½°', 45_000],
    ['1/2deg', 1800],
    ['¾°', 2700],
    ['12 degrees 30 minutes', 45_000],
    ['12 deg. 30 min. 15 sec.', 45_015],
    ['12,5°', 45_000],
    ['12,5deg', 45_000],
    ['7\u00a0°\u00a030\u2009\u2032', 27_000],
    ["30 1/2'", 1830],
  ])('%s', (text, arcsec) => {
    expect(arcsecOf(text)).toBe(arcsec);
  });

  it.each([
    ['12,5,1°', 'comma-decimal'],
    ['12.5,1°', 'comma-decimal'],
    ["12 1/2° 30'", 'decimal-before-minutes'],
    ['12 1/0°', 'unit-missing'],
    ['12 1/2', 'unit-missing'],
    ['12°30', 'unit-missing'],
    ["12°61'", 'part-too-large'],
  ])('%s is refused', (text, code) => {
    expect(arcsecOf(text)).toBe(code);
  });
});

describe('a rise or a taper as prints write it', () => {
  const slopeOf = (text: string, kind: 'rise over run' | 'taper included') => {
    const read = readWrittenAngle(text, kind);
    if (!read.ok) return read.fault.code;
    const rad = (read.value.arcsec / 648_000) * Math.PI;
    return kind === 'taper included' ? 2 * Math.tan(rad / 2) : Math.tan(rad);
  };

  it.each([
    ['1:20', 0.05],
    ['1/20', 0.05],
    ['5/100 mm', 0.05],
    ['5:100mm', 0.05],
    ['0,5/10 in', 0.05],
    ['1in/20in', 0.05],
    ['1in over 20in', 0.05],
    ['0.050in in 1in', 0.05],
  ])('rise %s', (text, slope) => {
    expect(slopeOf(text, 'rise over run')).toBeCloseTo(slope, 12);
  });

  it.each(['1:20mm:3', '1in/20', 'one in twenty', '1/0'])('rise %s is refused', (text) => {
    expect(slopeOf(text, 'rise over run')).toBeTypeOf('string');
  });

  it.each([
    ['0.75"/ft', 0.0625],
    ['0,75"/ft', 0.0625],
    ['3/4 in/ft', 0.0625],
    ['¾"/ft', 0.0625],
    ['3/4 in. per foot', 0.0625],
    ['0.75 inch/foot', 0.0625],
    ['6 1/8in/ft', 6.125 / 12],
    ['1:20', 0.05],
    ['50mm/m', 0.05],
  ])('taper %s', (text, slope) => {
    expect(slopeOf(text, 'taper included')).toBeCloseTo(slope, 12);
  });
});

describe('a decimal comma', () => {
  it.each([
    ['127,0mm', 127],
    ['0,8682in', 22.05228],
    [',5in', 12.7],
    ['0,125in', 3.175],
  ])('%s is one', (text, mm) => {
    const read = readLength('bar', text);
    expect(read.ok && read.value.mm).toBeCloseTo(mm, 9);
  });

  it.each(['1,270mm', '12,345mm', '1,2,3mm', '1.2,3mm'])('%s is asked about', (text) => {
    const read = readLength('bar', text);
    expect(!read.ok && read.fault.code).toBe('comma-decimal');
  });
});

describe('blocks keyed', () => {
  const question = {
    ...firstQuestion(),
    angle: { text: '10deg', kind: 'angle' as const },
    bar: {
      length: '100mm',
      lengthIs: 'nominal' as const,
      lengthUncertainty: null,
      rollDiameter: null,
    },
    setId: 'metric-88',
  };

  it('a decimal comma is read in a block: none has a thousand of its unit', () => {
    const read = checkTaken(question, STANDARD_SETS, ['1,008', '1.36', '15']);
    expect(read.ok && read.value.sumText).toBe('17.368');
  });

  it('one that cannot be read is named by itself, and the others are added up', () => {
    const read = checkTaken(question, STANDARD_SETS, ['1.36', '15', 'x1.0', '1']);
    if (!read.ok) throw new Error(read.fault.what);
    expect(read.value.adds).toBe(false);
    expect(read.value.sumText).toBe('17.360');
    expect(read.value.slips[0]).toMatchObject({ code: 'malformed-block' });
    expect(read.value.slips[0]!.text).toContain('"x1.0"');
  });
});
