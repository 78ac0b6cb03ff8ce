import { radiansFromArcsec, type SweepResult } from '@taptrue/protocol';
import { LEAST_TURN_IN_U, type PivotEstimate } from './pivot.ts';
import { studentT } from './student-t.ts';

/** A line that lies elsewhere by more than this, with nothing tapped, was zeroed or moved: chance 1 in 2,000. */
const SHIFTED_IN_U = 3.5;
const SHIFTED_CHANCE = 2.5e-4;
/** Two pivots farther apart than this many standard uncertainties are not one place. */
const APART_IN_U = 3;
/** A vise on its bolts turns about no fixed point: it wanders by millimetres from blow to blow (common practice, no source). */
const WANDERS_MM = 3;

/** Standard uncertainty of the slope, from the whole uncertainty of the sweep; null: not known. */
function slopeU(result: SweepResult): number | null {
  const arcsec = result.angleStandardUncertaintyArcsec;
  return arcsec === null ? null : radiansFromArcsec(arcsec) * (1 + result.slope * result.slope);
}

/** True where the turn from one sweep to the next is more than the two can differ by. */
export function isTurned(before: SweepResult, after: SweepResult): boolean {
  const [first, second] = [slopeU(before), slopeU(after)];
  if (first === null || second === null) return false;
  return Math.abs(after.slope - before.slope) > LEAST_TURN_IN_U * Math.hypot(first, second);
}

/**
 * True where taps that were to turn the bar by ten standard uncertainties or more brought under half of it. A fine
 * tap that does not show is none of these.
 */
export function broughtLittle(before: SweepResult, after: SweepResult): boolean {
  const [first, second] = [slopeU(before), slopeU(after)];
  if (first === null || second === null || isTurned(before, after)) return false;
  const wanted = Math.abs(radiansFromArcsec(before.deviationArcsec));
  return wanted > 2 * LEAST_TURN_IN_U * Math.hypot(first, second);
}

/** Height of the middle of the sweep and its standard uncertainty, mm; null: not known. */
function middleOf(result: SweepResult, xMm: number): { yMm: number; uMm: number } | null {
  const u = slopeU(result);
  const { interceptStandardErrorMm: se, slopeInterceptCovarianceMm: cross } = result;
  const slopeSe = result.slopeStandardError;
  if (u === null || se === null || cross === null || slopeSe === null) return null;
  const widened = slopeSe > 0 ? Math.max(1, u / slopeSe) : 1;
  const fitted = se * se + 2 * xMm * cross + (xMm * slopeSe) ** 2;
  // With points exactly on a line only the digit is known: half the slope's uncertainty over the length.
  const leastMm = (u * result.lengthMm) / 2;
  const uMm = slopeSe > 0 ? widened * Math.sqrt(Math.max(0, fitted)) : leastMm;
  return { yMm: result.interceptMm + result.slope * xMm, uMm };
}

/**
 * How far the whole line lies from where it lay, mm, positive away, where that is more than the two sweeps can
 * differ by and nothing turned: the dial was zeroed, or bar or indicator moved. null: it lies as it did.
 */
export function shiftedMm(before: SweepResult, after: SweepResult): number | null {
  if (isTurned(before, after)) return null;
  const xMm = (before.fromMm + before.toMm) / 2;
  const [first, second] = [middleOf(before, xMm), middleOf(after, xMm)];
  if (first === null || second === null) return null;
  const { degreesOfFreedom: one } = before;
  const { degreesOfFreedom: other } = after;
  // Two lines of like scatter share their degrees of freedom, as in a pooled variance.
  const freedom = one === null || other === null ? null : one + other;
  const inU =
    freedom === 0 ? SHIFTED_IN_U : Math.max(SHIFTED_IN_U, studentT(1 - SHIFTED_CHANCE, freedom));
  const shiftMm = second.yMm - first.yMm;
  return Math.abs(shiftMm) > inU * Math.hypot(first.uMm, second.uMm) ? shiftMm : null;
}

/** True where two estimates of the pivot cannot be one place, the wander of a vise allowed for. */
export function areApart(one: PivotEstimate, other: PivotEstimate): boolean {
  const uMm = Math.hypot(one.uncertaintyMm, other.uncertaintyMm, WANDERS_MM);
  return Math.abs(one.xMm - other.xMm) > APART_IN_U * uMm;
}
