import { formatLength, type LengthUnit } from '@taptrue/protocol';

/** Where the roll was not measured: 0.5 in on a 5 in bar, 20 mm on 200 mm (common practice, no source). */
export const USUAL_ROLL_SHARE = 0.1;

/** Along the jaw a bar takes L cos(angle) and one roll diameter. `angleRad`: bar against jaw. */
export function jawFit(
  barMm: number,
  rollMm: number,
  angleRad: number,
  widthMm: number | null,
  unit: LengthUnit,
) {
  const neededMm = barMm * Math.cos(angleRad) + rollMm;
  const fits = widthMm === null ? null : neededMm <= widthMm;
  const needs = `The bar takes ${formatLength(neededMm, unit, { decimals: unit === 'in' ? 2 : 0 })} along the jaw`;
  const sentence =
    widthMm === null
      ? `${needs}.`
      : fits
        ? `${needs}; it fits.`
        : `${needs}, and the jaw is ${formatLength(widthMm, unit, { decimals: unit === 'in' ? 2 : 0 })} wide: use a shorter bar, or see that both rolls still stand on the jaw.`;
  return { neededMm, widthMm, fits, sentence };
}
