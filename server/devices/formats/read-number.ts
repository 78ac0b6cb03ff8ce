import type { PointRule } from '@taptrue/protocol';

/** The pieces of one number as they were found in a frame. */
export interface NumberParts {
  sign: 1 | -1;
  /** All digits, point left out. */
  digits: string;
  /** Digits after the point; null: not known yet. */
  decimals: number | null;
}

/** `Reading.decimals` holds at most nine. */
const MOST_DECIMALS = 9;

/**
 * Takes at most `atMost` digits from `at`, and the one decimal mark where the rule has it written. A second mark, or
 * another mark, ends the number: it is then not understood, so `1,30` is never read as 130.
 */
export function takeDigits(
  text: string,
  at: number,
  point: PointRule,
  atMost: number,
): { digits: string; decimals: number | null; nextAt: number } {
  const mark = point.kind === 'written' ? point.mark : null;
  let digits = '';
  let markAfter: number | null = null;
  let nextAt = at;
  for (; nextAt < text.length; nextAt += 1) {
    const character = text.charAt(nextAt);
    if (character >= '0' && character <= '9') {
      if (digits.length === atMost) break;
      digits += character;
    } else if (character === mark && markAfter === null) markAfter = digits.length;
    else break;
  }
  if (point.kind === 'given by point field' || point.kind === 'given by unit')
    return { digits, decimals: null, nextAt };
  if (point.kind === 'implied') return { digits, decimals: point.decimals, nextAt };
  return { digits, decimals: markAfter === null ? null : digits.length - markAfter, nextAt };
}

/**
 * The number from its decimal digits, so that it is the double nearest to what the device shows (0.1 is
 * 0.1, not 1 · 0.1). null where the point is not known. Minus nought is nought.
 */
export function wholeNumber(parts: NumberParts): number | null {
  const { digits, decimals, sign } = parts;
  if (digits === '' || decimals === null || decimals > MOST_DECIMALS) return null;
  const padded = digits.padStart(decimals + 1, '0');
  const split = padded.length - decimals;
  const magnitude = Number(`${padded.slice(0, split)}.${padded.slice(split)}`);
  return magnitude === 0 ? 0 : sign * magnitude;
}

/**
 * A binary count as the number the display shows, with the decimals it takes to tell one count from the next
 * (100 per millimetre: 2; 20480 per inch: 5).
 */
export function countedNumber(
  counts: number,
  perUnit: number,
): { value: number; decimals: number } | null {
  const decimals = Math.ceil(Math.log10(perUnit) - 1e-9);
  if (!Number.isSafeInteger(counts) || decimals > MOST_DECIMALS) return null;
  const value = counts / perUnit;
  return { value: value === 0 ? 0 : value, decimals };
}
