import { arcsecFromRadians, fromMm, type LengthUnit } from './units.ts';

/** Typographic minus, so that a sign is as wide as a plus on a gauge read from two metres. */
const MINUS = '−';

function signMark(value: number, plus: boolean): string {
  if (value < 0) return MINUS;
  return plus ? '+' : '';
}

/** Decimals that show a tenth of what is worth tapping: 0.0001 in, 0.001 mm. */
export function usualDecimals(unit: LengthUnit): number {
  return unit === 'in' ? 4 : 3;
}

/** `0.0034 in`, `0.086 mm`; with `plus`, a sign is always shown. Never prints a negative zero. */
export function formatLength(
  mm: number,
  unit: LengthUnit,
  options: { decimals?: number; plus?: boolean; bare?: boolean } = {},
): string {
  const decimals = options.decimals ?? usualDecimals(unit);
  const digits = Math.abs(fromMm(mm, unit)).toFixed(decimals);
  const sign =
    Number(digits) === 0 ? (options.plus ? '+' : '') : signMark(mm, options.plus ?? false);
  return options.bare ? `${sign}${digits}` : `${sign}${digits} ${unit}`;
}

/** `0° 0′ 41″`, `12° 30′ 00″`; seconds with a decimal below ten seconds, where it still says something. */
export function formatAngle(radians: number, options: { plus?: boolean } = {}): string {
  const secondsOfArc = Math.abs(arcsecFromRadians(radians));
  const decimals = secondsOfArc < 9.95 ? 1 : 0;
  const rounded = Number(secondsOfArc.toFixed(decimals));
  const sign = rounded === 0 ? '' : signMark(radians, options.plus ?? false);
  const degrees = Math.floor(rounded / 3600);
  const minutes = Math.floor((rounded - degrees * 3600) / 60);
  const seconds = rounded - degrees * 3600 - minutes * 60;
  return `${sign}${degrees}° ${minutes}′ ${seconds.toFixed(decimals)}″`;
}

/** Slope the way the shop says it: `0.20 mm/m` or `0.0024 in/ft`. */
export function formatSlope(slope: number, unit: LengthUnit): string {
  const perLength = unit === 'in' ? slope * 12 : slope * 1000;
  const digits = Math.abs(perLength).toFixed(unit === 'in' ? 4 : 3);
  const sign = Number(digits) === 0 ? '' : signMark(slope, false);
  return `${sign}${digits} ${unit === 'in' ? 'in/ft' : 'mm/m'}`;
}
