import { MM_PER_INCH, radiansFromArcsec, radiansFromDegrees } from './units.ts';

export type Parsed<T> = { ok: true; value: T } | { ok: false; why: string };

/** Digits with one decimal mark, `.` or `,`, and an optional sign; nothing else is a number here. */
const NUMBER = '[+-]?(?:\\d+(?:[.,]\\d*)?|[.,]\\d+)';
const LENGTH_FORM = new RegExp(`^(${NUMBER})\\s*([a-zµ"]*)$`, 'i');
const ANGLE_PART = /(\d+(?:[.,]\d*)?|[.,]\d+)\s*([a-z°'"′″µ]*)/giy;

const MM_PER_LENGTH_UNIT: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  um: 0.001,
  µm: 0.001,
  in: MM_PER_INCH,
  inch: MM_PER_INCH,
  '"': MM_PER_INCH,
  thou: MM_PER_INCH / 1000,
};

const RADIANS_PER_ANGLE_UNIT: Readonly<Record<string, number>> = {
  rad: 1,
  mrad: 1e-3,
  urad: 1e-6,
  µrad: 1e-6,
  deg: radiansFromDegrees(1),
  '°': radiansFromDegrees(1),
  min: radiansFromArcsec(60),
  arcmin: radiansFromArcsec(60),
  "'": radiansFromArcsec(60),
  '′': radiansFromArcsec(60),
  sec: radiansFromArcsec(1),
  arcsec: radiansFromArcsec(1),
  '"': radiansFromArcsec(1),
  '″': radiansFromArcsec(1),
};

/**
 * A plain number with `.` or `,` as its one decimal mark: `0.0015`, `,0015`, `-1,5`.
 * `1,234.5` has two marks and is refused rather than guessed at.
 */
export function parseNumber(text: string): Parsed<number> {
  const trimmed = text.trim().replace('−', '-');
  if (!new RegExp(`^${NUMBER}$`).test(trimmed)) {
    return { ok: false, why: `"${text}" is not a number with at most one decimal mark` };
  }
  return { ok: true, value: Number(trimmed.replace(',', '.')) };
}

/** A length with its unit, in millimetres: `0.001in`, `150 mm`, `-3um`. A bare number is refused. */
export function parseLengthMm(text: string): Parsed<number> {
  // The Greek letter looks like the micro sign and comes from other keyboards.
  const match = LENGTH_FORM.exec(text.trim().replace('−', '-').replace('\u03bc', 'µ'));
  if (!match) return { ok: false, why: `"${text}" is not a length such as 0.001in or 150mm` };
  const unit = match[2]!.toLowerCase();
  if (unit === '') return { ok: false, why: `"${text}" has no unit; write ${text}in or ${text}mm` };
  const factor = MM_PER_LENGTH_UNIT[unit];
  if (factor === undefined) {
    return {
      ok: false,
      why: `"${match[2]}" in "${text}" is not a unit of length known here (mm, um, in, thou)`,
    };
  }
  return { ok: true, value: Number(match[1]!.replace(',', '.')) * factor };
}

/** An angle with its unit or units, in radians: `20arcsec`, `12deg30min`, `0.5°`. A bare number is refused. */
export function parseAngleRad(text: string): Parsed<number> {
  let rest = text.trim().replace('−', '-').replace('\u03bc', 'µ');
  let sign = 1;
  if (/^[+-]/.test(rest)) {
    sign = rest.startsWith('-') ? -1 : 1;
    rest = rest.slice(1);
  }
  let total = 0;
  let previousFactor = Number.POSITIVE_INFINITY;
  ANGLE_PART.lastIndex = 0;
  let consumed = 0;
  while (consumed < rest.length) {
    ANGLE_PART.lastIndex = consumed;
    const match = ANGLE_PART.exec(rest);
    if (!match)
      return { ok: false, why: `"${text}" is not an angle such as 20arcsec or 12deg30min` };
    const unit = match[2]!.toLowerCase();
    if (unit === '')
      return { ok: false, why: `"${text}" has no unit; write ${text}deg or ${text}arcsec` };
    const factor = RADIANS_PER_ANGLE_UNIT[unit];
    if (factor === undefined) {
      return {
        ok: false,
        why: `"${match[2]}" in "${text}" is not a unit of angle known here (deg, min, arcsec, rad)`,
      };
    }
    if (factor >= previousFactor) {
      return {
        ok: false,
        why: `"${text}" gives its parts out of order; write degrees, minutes, seconds`,
      };
    }
    previousFactor = factor;
    total += Number(match[1]!.replace(',', '.')) * factor;
    consumed = ANGLE_PART.lastIndex;
    while (rest[consumed] === ' ') consumed += 1;
  }
  if (consumed === 0) return { ok: false, why: 'the angle is empty' };
  return { ok: true, value: sign * total };
}
