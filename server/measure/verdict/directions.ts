import { heightAt, type LineFit, leverage } from '../sweep/fit-line.ts';
import type { FittedPass } from './combine-passes.ts';
import { studentT } from './student-t.ts';

/**
 * How far from where the sweep started its end may be and still count as "back at the start", as a share
 * of the swept length.
 */
const SAME_PLACE_SHARE = 0.05;

/**
 * A difference between the directions is named where chance would show it once in a thousand sweeps, and
 * in any case only above five of its standard uncertainties: real noise is not as independent as that...
 */
const CHANCE = 0.001;
const LEAST_IN_U = 5;

/** ...and above this many counts of the indicator, since each direction may be rounded its own way. */
const LEAST_COUNTS = 2;

/**
 * Where the two directions agree at the turn to within a third of what they differ by at the start,
 * something moved along the way; where they differ by much the same all along, it is lag.
 */
const CLOSED_AT_TURN_SHARE = 1 / 3;

export interface Directions {
  /** Back line less out line at mid length, mm. */
  gapMm: number;
  /** Surface at the start on return less at the start on leaving, mm; null: it did not come back there. */
  closureMm: number | null;
  finding: 'alike' | 'gap' | 'open loop';
}

/**
 * Surface where the sweep ended less where it began, mm, the little way between the two places taken out
 * by the slope.
 */
function closure(out: FittedPass, back: FittedPass, slope: number): number | null {
  const startX = out.xsMm[0]!;
  const lengthMm = out.line.toMm - out.line.fromMm;
  const endX = back.xsMm.at(-1)!;
  if (Math.abs(endX - startX) > SAME_PLACE_SHARE * lengthMm) return null;
  return back.ysMm.at(-1)! - out.ysMm[0]! - slope * (endX - startX);
}

function differenceAt(out: LineFit, back: LineFit, xMm: number, noiseMm: number) {
  return {
    differenceMm: heightAt(back, xMm) - heightAt(out, xMm),
    uncertaintyMm: noiseMm * Math.hypot(leverage(out, xMm), leverage(back, xMm)),
  };
}

/** Compares the way out with the way back. `countMm`: one count of the indicator; `noiseMm`: standard deviation of one reading. */
export function compareDirections(
  out: FittedPass,
  back: FittedPass,
  countMm: number,
  noiseMm: number,
): Directions {
  const fromMm = Math.max(out.line.fromMm, back.line.fromMm);
  const toMm = Math.min(out.line.toMm, back.line.toMm);
  const middle = differenceAt(out.line, back.line, (fromMm + toMm) / 2, noiseMm);
  const gapMm = middle.differenceMm;
  const closureMm = closure(out, back, (out.line.slope + back.line.slope) / 2);
  const startedLow = out.xsMm[0]! - fromMm < toMm - out.xsMm[0]!;
  const start = differenceAt(out.line, back.line, startedLow ? fromMm : toMm, noiseMm);
  const turn = differenceAt(out.line, back.line, startedLow ? toMm : fromMm, noiseMm);

  const freedom = out.line.points + back.line.points - 4;
  const inU = freedom > 0 ? Math.max(LEAST_IN_U, studentT(1 - CHANCE / 2, freedom)) : LEAST_IN_U;
  const matters = (at: typeof middle) =>
    Math.abs(at.differenceMm) > Math.max(inU * at.uncertaintyMm, LEAST_COUNTS * countMm, 1e-6);
  const closedAtTurn =
    Math.abs(turn.differenceMm) < CLOSED_AT_TURN_SHARE * Math.abs(start.differenceMm);
  const finding = matters(start) && closedAtTurn ? 'open loop' : matters(middle) ? 'gap' : 'alike';
  return { gapMm, closureMm, finding };
}
