import {
  type Fault,
  formatLength,
  type LengthUnit,
  type Rises,
  type TapAdvice,
} from '@taptrue/protocol';
import { readingFromSurface } from './surface.ts';

/**
 * Shortest lever between stylus and pivot, as a share of the swept length. At a tenth the needle moves a
 * tenth of what the sweep showed from end to end: one count of the dial is then ten counts of bar.
 */
export const SHORTEST_LEVER_SHARE = 0.1;

/** A pivot is not known to a millimetre; nearer than that, which end the mallet strikes is not known. */
export const MALLET_AT_PIVOT_MM = 1;

/** The pivot of a vise on its base lies about this far across from the bar where nobody has measured it, mm. */
const USUAL_ACROSS_MM = 100;

/** A shift of the target below a tenth of the limit does not matter to the tap. */
const SHARE_OF_LIMIT = 0.1;

export function shortestLeverMm(sweptLengthMm: number): number {
  return SHORTEST_LEVER_SHARE * sweptLengthMm;
}

function leverText(mm: number, unit: LengthUnit): string {
  return formatLength(mm, unit, { decimals: unit === 'in' ? 2 : 1 });
}

/** Refused where the stylus stands too near the pivot to show a turn; null: it may be used. */
export function parkedTooNear(
  parkedMm: number,
  pivotMm: number,
  sweptMm: number,
  unit: LengthUnit,
): Fault | null {
  const leverMm = Math.abs(parkedMm - pivotMm);
  if (leverMm >= shortestLeverMm(sweptMm)) return null;
  return {
    code: 'parked-near-pivot',
    what: 'The stylus is parked too near the pivot: there the needle hardly moves when the vise turns, and what it shows would be stretched too far.',
    got: `${leverText(leverMm, unit)} from the pivot, at least ${leverText(shortestLeverMm(sweptMm), unit)} wanted`,
    remedy: 'Park the stylus at the end of the bar farther from the pivot.',
  };
}

/** Refused where the mallet strikes at the pivot; null: it may be used. */
export function malletAtPivot(malletMm: number, pivotMm: number, unit: LengthUnit): Fault | null {
  const leverMm = Math.abs(malletMm - pivotMm);
  if (leverMm >= MALLET_AT_PIVOT_MM) return null;
  return {
    code: 'mallet-at-pivot',
    what: 'The mallet would strike at the pivot, where no blow turns the vise.',
    got: `${leverText(leverMm, unit)} from the pivot`,
    remedy:
      'Strike at the other end of the vise; or loosen this clamp and nip the other, and say so; or correct the pivot.',
  };
}

/** How far the surface at x must move for a line of slope b to become one of slope t, mm, positive away. */
export function moveWantedMm(slope: number, target: number, xMm: number, pivotMm: number): number {
  return (target - slope) * (xMm - pivotMm);
}

/** Which end, which way, how much, and the turn, seen from above. Positions in mm. */
export function tapAdvice(
  slope: number,
  target: number,
  pivotMm: number,
  malletMm: number,
  axis: 'x' | 'y',
): TapAdvice {
  const moveMm = moveWantedMm(slope, target, malletMm, pivotMm);
  const isRight = malletMm > pivotMm;
  const goesAway = moveMm > 0;
  return {
    end: axis === 'x' ? (isRight ? 'right' : 'left') : isRight ? 'far' : 'near',
    direction: axis === 'x' ? (goesAway ? 'away' : 'toward') : goesAway ? 'left' : 'right',
    amountMm: Math.abs(moveMm),
    turn: slope === target ? 'none' : slope > target ? 'clockwise' : 'counter-clockwise',
  };
}

/**
 * How much farther away the surface comes to rest because the pivot lies across from the bar by c
 * (positive farther away), mm: exactly c (1 - cos ε / cos τ) with the angles before and after, which is
 * c ε²/2 for a target of 0.
 */
export function acrossShiftMm(slope: number, target: number, acrossMm: number): number {
  return acrossMm * (1 - Math.sqrt((1 + target * target) / (1 + slope * slope)));
}

export interface TapToQuestion {
  slope: number;
  /** Height of the line at the pivot, mm. */
  heightAtPivotMm: number;
  target: number;
  pivotMm: number;
  /** null: not known, not carried. */
  acrossMm: number | null;
  /** Where the stylus stands and what the dial shows there now; null: nothing is parked. */
  parked: { xMm: number; readingMm: number | null } | null;
  rises: Rises | null;
  stylusFactor: number;
}

/**
 * The reading at which to stop, mm, as the dial will show it. With nothing parked there is one only for a
 * target of 0, where it is the same at every station; with the sense unknown, too, only for a target of
 * 0: the height of a level line shows the same reading either way. null: there is none.
 */
export function tapToReadingMm(question: TapToQuestion): number | null {
  const { slope, target, pivotMm, parked, rises, stylusFactor } = question;
  if (target !== 0 && (parked === null || rises === null)) return null;
  const shiftMm =
    question.acrossMm === null || rises === null
      ? 0
      : acrossShiftMm(slope, target, question.acrossMm);
  if (parked && parked.readingMm !== null) {
    const moveMm = moveWantedMm(slope, target, parked.xMm, pivotMm) + shiftMm;
    return parked.readingMm + readingFromSurface(moveMm, rises, stylusFactor);
  }
  const riseMm = parked ? target * (parked.xMm - pivotMm) : 0;
  return readingFromSurface(question.heightAtPivotMm + riseMm + shiftMm, rises, stylusFactor);
}

/**
 * True where the turn is so large that a pivot 100 mm across from the bar, which nobody has measured,
 * would shift the target by more than a tenth of the limit at this lever.
 */
export function isCoarseTap(
  slope: number,
  target: number,
  limit: number,
  leverMm: number,
): boolean {
  const shiftMm = Math.abs(acrossShiftMm(slope, target, USUAL_ACROSS_MM));
  return shiftMm > SHARE_OF_LIMIT * Math.tan(limit) * Math.abs(leverMm);
}
