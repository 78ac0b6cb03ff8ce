import {
  arcsecFromRadians,
  fromMm,
  type LengthUnit,
  type Parsed,
  parseAngleRad,
  parseLengthMm,
  parseNumber,
  toMm,
} from '@taptrue/protocol';

export type QuantityKind = 'length' | 'angle' | 'count';

/**
 * What was typed into a field, in millimetres, radians or as a whole number. The unit is printed beside every
 * field, so a bare length is in the display unit and a bare angle in seconds of arc; a typed unit wins.
 */
export function parseQuantity(text: string, kind: QuantityKind, unit: LengthUnit): Parsed<number> {
  const bare = parseNumber(text);
  if (kind === 'count') {
    if (bare.ok && Number.isInteger(bare.value)) return bare;
    return { ok: false, why: `"${text}" is not a whole number` };
  }
  if (kind === 'length') {
    return bare.ok ? { ok: true, value: toMm(bare.value, unit) } : parseLengthMm(text);
  }
  return bare.ok ? parseAngleRad(`${text.trim().replace('−', '-')}arcsec`) : parseAngleRad(text);
}

/** As short as it can be without losing what a machinist would type: `0.001`, `12.7`, `-0.315`. */
function shortest(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return text.includes('.') ? text.replace(/0+$/, '').replace(/\.$/, '') : text;
}

/** Places along the work to a tenth of a thousandth; what is small enough to be a limit, to its last digit. */
function decimalsFor(mm: number, unit: LengthUnit): number {
  const isPlace = Math.abs(mm) >= 1;
  if (unit === 'in') return isPlace ? 4 : 6;
  return isPlace ? 3 : 5;
}

/** The value as the field shows it, with its unit, ready to be edited. */
export function quantityText(value: number | null, kind: QuantityKind, unit: LengthUnit): string {
  if (value === null) return '';
  if (kind === 'count') return String(value);
  if (kind === 'length')
    return `${shortest(fromMm(value, unit), decimalsFor(value, unit))} ${unit}`;
  const secondsOfArc = arcsecFromRadians(value);
  return Math.abs(secondsOfArc) >= 3600
    ? `${shortest(secondsOfArc / 3600, 4)} deg`
    : `${shortest(secondsOfArc, 2)} arcsec`;
}

/** Positions separated by spaces, semicolons or line ends; a comma stays a decimal mark. */
export function parseStationsMm(text: string, unit: LengthUnit): Parsed<number[]> {
  const pieces = text
    .replace(/(\d)\s+(?=(?:mm|um|µm|cm|in|inch|thou)\b)/gi, '$1')
    .split(/[\s;]+/)
    .filter((piece) => piece !== '');
  if (pieces.length < 2 || pieces.length > 25) {
    return { ok: false, why: `${pieces.length} positions were typed; 2 to 25 are needed` };
  }
  const positionsMm: number[] = [];
  for (const piece of pieces) {
    const parsed = parseQuantity(piece, 'length', unit);
    if (!parsed.ok) return parsed;
    positionsMm.push(parsed.value);
  }
  return { ok: true, value: positionsMm };
}
