import { fitLine } from '../sweep/fit-line.ts';
import type { FittedPass } from './combine-passes.ts';
import type { SweepPoint } from './sweep-input.ts';

/** Equal readings in a row at one end of the bar that look like an indicator at its stop. */
const LEAST_EQUAL_READINGS = 3;

/** The rest must show a slope, so that the missing travel can be seen: this many points of it... */
const LEAST_OTHER_POINTS = 3;

/** ...which over the equal run should have moved the needle by this many counts or times its own scatter. */
const MISSING_TRAVEL_FACTOR = 5;

/** Differences below this are one and the same reading, mm. */
const SAME_READING_MM = 1e-9;

/** Readings at the end of the known range. */
export function atEndOfRange(
  points: readonly SweepPoint[],
  range: { lowMm: number; highMm: number },
  countMm: number,
): SweepPoint[] {
  const edgeMm = Math.max(countMm / 2, SAME_READING_MM);
  return points.filter(
    ({ readingMm }) => readingMm >= range.highMm - edgeMm || readingMm <= range.lowMm + edgeMm,
  );
}

function equalRunLength(ysMm: readonly number[]): number {
  let length = 1;
  while (length < ysMm.length && Math.abs(ysMm[length]! - ysMm[0]!) <= SAME_READING_MM) length += 1;
  return length;
}

/**
 * How many readings at one end of the bar are one and the same extreme, while the slope of the rest says
 * that the needle should have gone on: an indicator that has reached its stop. 0: none.
 */
export function stuckReadings(pass: FittedPass, countMm: number): number {
  const ascending = pass.order;
  for (const order of [ascending, [...ascending].reverse()]) {
    const xs = order.map((index) => pass.xsMm[index]!);
    const ys = order.map((index) => pass.ysMm[index]!);
    const run = equalRunLength(ys);
    if (run < LEAST_EQUAL_READINGS || ys.length - run < LEAST_OTHER_POINTS) continue;
    const rest = fitLine(xs.slice(run), ys.slice(run));
    if (!rest.ok) continue;
    const { slope, residualStandardDeviationMm } = rest.line;
    const missingMm = Math.abs(slope * (xs[run - 1]! - xs[0]!));
    const noticeableMm =
      MISSING_TRAVEL_FACTOR * Math.max(countMm, residualStandardDeviationMm ?? 0, 1e-6);
    const goesBeyond = ys.slice(run).every((y) => slopeSide(slope, xs, run) * (y - ys[0]!) >= 0);
    if (missingMm > noticeableMm && goesBeyond) return run;
  }
  return 0;
}

/** +1 where the heights rise going from the equal run into the rest. */
function slopeSide(slope: number, xs: readonly number[], run: number): number {
  return Math.sign(slope * (xs[run]! - xs[0]!));
}
