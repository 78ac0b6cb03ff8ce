import { fitLine } from '../sweep/fit-line.ts';
import type { FittedPass } from './combine-passes.ts';

/** Readings in a row that are one and the same. */
const LEAST_HELD = 3;
/** Points besides them, from which it can be told where the needle should have gone; as many as were held. */
const LEAST_OTHERS = 4;
/** The slope of the others must itself be sure: so many of its standard errors. */
const LEAST_SLOPE_IN_ERRORS = 6;
/** An honest needle stands still for one count at most; over so many counts of change it was held. */
const LEAST_MISSING_COUNTS = 4;
/** Where the scatter is coarser than the count, equal readings can be chance: so many times the scatter. */
const LEAST_MISSING_SCATTERS = 5;
/** Differences below this are one and the same reading, mm. */
const SAME_READING_MM = 1e-9;

/** Readings in a row that stood still where the line says the needle should have moved. */
export interface Held {
  readings: number;
  fromMm: number;
  toMm: number;
  /** What the needle should have gone meanwhile, mm. */
  missingMm: number;
}

/**
 * The longest run of equal readings over which the line of all the others predicts a change of four counts or
 * more: a needle that stuck, a device that slept, a line that stood still for a while. null: none.
 */
export function heldReadings(pass: FittedPass, countMm: number): Held | null {
  const xs = pass.order.map((index) => pass.xsMm[index]!);
  const ys = pass.order.map((index) => pass.ysMm[index]!);
  let found: Held | null = null;
  for (const [first, last] of equalRuns(ys)) {
    // At the ends the lag of a needle that turns round looks alike; a needle at its stop is found by other means.
    if (first === 0 || last === ys.length - 1) continue;
    const readings = last - first + 1;
    const needed = Math.max(LEAST_OTHERS, readings);
    if (readings < LEAST_HELD || ys.length - readings < needed) continue;
    const others = (values: readonly number[]) => [
      ...values.slice(0, first),
      ...values.slice(last + 1),
    ];
    const rest = fitLine(others(xs), others(ys));
    if (!rest.ok) continue;
    const { slope, slopeStandardError, residualStandardDeviationMm } = rest.line;
    if (Math.abs(slope) < LEAST_SLOPE_IN_ERRORS * (slopeStandardError ?? 0)) continue;
    const missingMm = Math.abs(slope * (xs[last]! - xs[first]!));
    const leastMm = Math.max(
      LEAST_MISSING_COUNTS * countMm,
      LEAST_MISSING_SCATTERS * (residualStandardDeviationMm ?? 0),
      1e-6,
    );
    if (missingMm < leastMm || (found && found.missingMm >= missingMm)) continue;
    found = { readings, fromMm: xs[first]!, toMm: xs[last]!, missingMm };
  }
  return found;
}

/** First and last index of every run of equal heights. */
function equalRuns(ys: readonly number[]): [first: number, last: number][] {
  const runs: [number, number][] = [];
  let first = 0;
  for (let index = 1; index <= ys.length; index += 1) {
    const goesOn = index < ys.length && Math.abs(ys[index]! - ys[first]!) <= SAME_READING_MM;
    if (goesOn) continue;
    runs.push([first, index - 1]);
    first = index;
  }
  return runs;
}
