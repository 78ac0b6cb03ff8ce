import { echoAngle } from '@taptrue/server/plan/angle/echo-angle.ts';
import { readAngleText, readWrittenAngle } from '@taptrue/server/plan/angle/read-angle.ts';
import { readLength } from '@taptrue/server/plan/exact-length.ts';
import { isoToleranceArcsec } from '@taptrue/server/plan/limit.ts';
import { describe, expect, it } from 'vitest';

const arcsecOf = (text: string) => {
  const read = readAngleText('angle', text);
  if (!read.ok) throw new Error(read.fault.what);
  return read.value;
};

describe('heights on a 5 in bar', () => {
  // Machinery's Handbook, 31st ed., p. 695; 34 25': Handbook of Machining and Metalworking Calculations, ch. 4.
  it.each([
    ['12deg', 1.03956, 5],
    ['9deg', 0.78217, 5],
    ['31deg15min', 2.5939, 4],
    ['28deg38min1sec', 2.396, 3],
    ['34deg25min', 2.826, 3],
  ])('%s wants %f in', (text, inches, decimals) => {
    expect(echoAngle(arcsecOf(text), 127).riseOverBarIn).toBeCloseTo(inches, decimals);
  });

  it('gives 31 15 back from its rounded height to the 1.6 seconds that the rounding costs', () => {
    // asin(2.5939/5) = 31.250452 degrees, computed from the handbook's height.
    expect((Math.asin(2.5939 / 5) * 648_000) / Math.PI - arcsecOf('31deg15min')).toBeCloseTo(
      1.6,
      1,
    );
  });

  it('takes a taper of 6 1/8 in/ft for 28 38 01 included', () => {
    // Machinery's Handbook, 31st ed., p. 695.
    const read = readWrittenAngle('6 1/8in/ft', 'taper included');
    expect(read.ok && Math.round(read.value.arcsec)).toBe(28 * 3600 + 38 * 60 + 1);
  });
});

describe('sexagesimal arithmetic', () => {
  it('divides and multiplies as the ordnance correspondence course does', () => {
    // US Army OD1640, p. 58.
    expect(echoAngle(arcsecOf('71deg22min42sec') / 3, null).dmsText).toBe('23° 47′ 34″');
    expect(echoAngle(arcsecOf('15d21m40s') * 3, null).dmsText).toBe('46° 05′ 00″');
  });
});

describe('ISO 2768-1:1989, angular dimensions', () => {
  // Two public copies of the table agree in every cell; class c, 120 to 400 mm is 15 minutes, not 20.
  it.each([
    ['f', [60, 30, 20, 10, 5]],
    ['m', [60, 30, 20, 10, 5]],
    ['c', [90, 60, 30, 15, 10]],
    ['v', [180, 120, 60, 30, 20]],
  ] as const)('class %s', (name, minutes) => {
    expect([10, 50, 120, 400, 401].map((leg) => isoToleranceArcsec(name, leg) / 60)).toEqual(
      minutes,
    );
    expect(isoToleranceArcsec(name, 10.001) / 60).toBe(minutes[1]);
  });
});

describe('units', () => {
  it('convert as the UCUM essence has them', () => {
    // ucum-essence.xml 2.2: [in_i] = 2.54 cm, [mil_i] = 1e-3 [in_i], deg = 60 ', ' = 60 ''.
    expect(readLength('x', '1in')).toMatchObject({ value: { fm: 25_400_000_000_000n } });
    expect(readLength('x', '1thou')).toMatchObject({ value: { fm: 25_400_000_000n } });
    expect([arcsecOf('1deg'), arcsecOf('1min')]).toEqual([3600, 60]);
    expect(arcsecOf('1mrad')).toBeCloseTo(206.264806247, 8);
  });
});
