import { type CirclePoint, cosDeg, leastSquares, sinDeg } from './fit-circle.ts';
import { roundDeg, widestGapDeg } from './places.ts';

/** What makes the readings themselves doubtful, whatever figure they give. */
export type NeedleDoubt = 'needle-not-seen-moving' | 'indicator-at-its-stop';

/** Differences below this are one and the same reading, mm. */
const SAME_READING_MM = 1e-9;

/** Equal readings in a row that look like an indicator at its stop. */
const LEAST_EQUAL_READINGS = 3;

/** Beyond two thirds of a turn at the stop the others say too little of what is missing. */
const WIDEST_STOP_DEG = 240;

/** What the others say is missing must be this many times their scatter and their smallest step. */
const MISSING_FACTOR = 3;

/**
 * A needle nobody saw move, or one that stood at its stop over part of the turn while the others say it
 * should have gone on. null: neither.
 */
export function needleDoubt(points: readonly CirclePoint[]): NeedleDoubt | null {
  const sorted = [...points].sort((a, b) => roundDeg(a.angleDeg) - roundDeg(b.angleDeg));
  const values = [...new Set(sorted.map(({ readingMm }) => readingMm))].sort((a, b) => a - b);
  const steps = values
    .slice(1)
    .map((value, index) => value - values[index]!)
    .filter((step) => step > SAME_READING_MM);
  if (steps.length === 0) return 'needle-not-seen-moving';
  const countMm = Math.min(...steps);
  for (const [edgeMm, beyond] of [
    [values.at(-1)!, 1],
    [values[0]!, -1],
  ] as const) {
    if (isAtStop(sorted, edgeMm, beyond, countMm)) return 'indicator-at-its-stop';
  }
  return null;
}

function isAtStop(
  sorted: readonly CirclePoint[],
  edgeMm: number,
  beyond: 1 | -1,
  countMm: number,
): boolean {
  const isEqual = ({ readingMm }: CirclePoint) => Math.abs(readingMm - edgeMm) <= SAME_READING_MM;
  const equal = sorted.filter(isEqual);
  const rest = sorted.filter((point) => !isEqual(point));
  if (equal.length < LEAST_EQUAL_READINGS || rest.length < 4) return false;
  // In one row round the turn: as many starts of such a row as there are rows.
  const starts = sorted.filter((point, index) => isEqual(point) && !isEqual(sorted.at(index - 1)!));
  if (starts.length !== 1) return false;
  const fit = leastSquares(rest);
  if (fit.placesDeg.length < 4 || widestGapDeg(fit.placesDeg) > WIDEST_STOP_DEG) return false;
  const missingMm = equal.map(
    ({ angleDeg }) =>
      beyond * (fit.meanMm + fit.cosMm * cosDeg(angleDeg) + fit.sinMm * sinDeg(angleDeg) - edgeMm),
  );
  const noticeableMm =
    MISSING_FACTOR * Math.max(countMm, fit.residualStandardDeviationMm ?? 0, 1e-6);
  return Math.max(...missingMm) > noticeableMm;
}
