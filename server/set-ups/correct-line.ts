import { formatLength, type LengthUnit, type TapAdvice } from '@taptrue/protocol';
import type { Correction, LinePlane, LineSetUp } from './set-up.ts';

/** What is known of the line and of what was asked. Lengths in mm; null: not given. */
export interface LineAsked {
  slope: number;
  targetSlope: number;
  lengthMm: number;
  axis: 'x' | 'y';
  /** Advice with pivot and mallet, where both are known. */
  tap: TapAdvice | null;
  footSpacingMm: number | null;
  fromHeadstockMm: number | null;
}

/**
 * What puts a line right in this set-up: (t - b) times a length, as the row says. null: the length it
 * goes by was not given, or the set-up is not swept along that axis.
 */
export function correctLine(
  plane: LinePlane,
  asked: LineAsked,
  unit: LengthUnit,
): Correction | null {
  const lengths = {
    swept: asked.lengthMm,
    'foot-spacing': asked.footSpacingMm,
    'from-headstock': asked.fromHeadstockMm,
  };
  const row = plane.corrects.find(({ over }) => lengths[over] !== null);
  const ways = row?.[asked.axis];
  if (!row || !ways) return null;
  if (row.kind === 'tap' && asked.tap) return tapCorrection(asked.tap, unit);

  const moveMm = (asked.targetSlope - asked.slope) * lengths[row.over]!;
  const way = moveMm >= 0 ? ways.plus : ways.minus;
  const amount = formatLength(Math.abs(moveMm), unit);
  const words = way.say.replace('{amount}', amount);
  if (row.kind === 'none') {
    return { kind: 'none', amountMm: 0, direction: null, where: way.where, words };
  }
  return {
    kind: row.kind,
    amountMm: Math.abs(moveMm),
    direction: way.direction,
    where: way.where,
    words,
  };
}

const TOWARD_WORDS: Readonly<Record<TapAdvice['direction'], string>> = {
  away: 'away from you',
  toward: 'toward you',
  left: 'to the left',
  right: 'to the right',
};

function tapCorrection(tap: TapAdvice, unit: LengthUnit): Correction {
  const amount = formatLength(tap.amountMm, unit);
  return {
    kind: 'tap',
    amountMm: tap.amountMm,
    direction: tap.direction,
    where: `${tap.end} end`,
    words: `Tap the ${tap.end} end, ${TOWARD_WORDS[tap.direction]}, ${amount}.`,
  };
}

/** The plane asked for, the first of the set-up where none was; null: it has no such plane. */
export function planeOf(setUp: LineSetUp, name: string | null): LinePlane | null {
  return name === null
    ? setUp.planes[0]
    : (setUp.planes.find((plane) => plane.name === name) ?? null);
}
