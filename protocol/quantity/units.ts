import Type from 'typebox';

/** International inch, exactly 25.4 mm (agreement of July 1959; npl.co.uk dimensional FAQs). */
export const MM_PER_INCH = 25.4;

/** One second of arc in radians: pi / (180 * 3600). */
export const RADIANS_PER_ARCSEC = Math.PI / 648_000;

export const LengthUnit = Type.Union([Type.Literal('mm'), Type.Literal('in')]);
export type LengthUnit = Type.Static<typeof LengthUnit>;

/** Length `value` given in `unit`, as millimetres. */
export function toMm(value: number, unit: LengthUnit): number {
  return unit === 'in' ? value * MM_PER_INCH : value;
}

/** Length `mm` in millimetres, as a number of `unit`. */
export function fromMm(mm: number, unit: LengthUnit): number {
  return unit === 'in' ? mm / MM_PER_INCH : mm;
}

export function arcsecFromRadians(radians: number): number {
  return radians / RADIANS_PER_ARCSEC;
}

export function radiansFromArcsec(arcsec: number): number {
  return arcsec * RADIANS_PER_ARCSEC;
}

export function radiansFromDegrees(degrees: number): number {
  return (degrees * Math.PI) / 180;
}
