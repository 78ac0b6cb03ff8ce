import {
  arcsecFromRadians,
  formatAngle,
  formatLength,
  type LengthUnit,
  type Repeats,
  radiansFromArcsec,
  type Stage,
  type TurnRow,
} from '@taptrue/protocol';
import { LEAST_TURN_IN_U } from '../../measure/verdict/pivot.ts';
import { spreadOf, standardDeviationKnownWithin } from './spread.ts';

/** From five sweeps on the standard deviation is known to 36 % (GUM, Table E.1); fewer are shown, not reckoned with. */
export const ENOUGH_REPEATS = 5;

/** One sweep that may be one of several over the same thing. */
export interface RepeatedSweep {
  number: number;
  stage: Stage;
  slope: number;
  lengthMm: number;
  surfacePerReading: number;
  /** Standard uncertainty of its angle; null: not known. */
  standardArcsec: number | null;
}

/** A turn too large for chance was a knock that nobody noticed, not how the bench repeats. */
function isKnocked(turnedArcsec: number, oneArcsec: number | null, other: number | null): boolean {
  if (oneArcsec === null || other === null) return false;
  return Math.abs(turnedArcsec) > LEAST_TURN_IN_U * Math.hypot(oneArcsec, other);
}

/** Sweeps of one job between which no tap was noticed, no clamp touched and nothing knocked, each run of them in its order. */
export function runsOfRepeats<S extends Pick<RepeatedSweep, 'number' | 'stage' | 'standardArcsec'>>(
  sweeps: readonly S[],
  turns: readonly Pick<TurnRow, 'before' | 'after' | 'tapped' | 'clampChanges' | 'turnedArcsec'>[],
): S[][] {
  const inOrder = [...sweeps].sort((a, b) => a.number - b.number);
  const runs: S[][] = [];
  for (const sweep of inOrder) {
    const run = runs.at(-1);
    const before = run?.at(-1);
    const turn = turns.find(({ after }) => after === sweep.number);
    const isSame =
      before !== undefined &&
      turn?.before === before.number &&
      turn.tapped === null &&
      turn.clampChanges === 0 &&
      before.stage === sweep.stage &&
      !isKnocked(turn.turnedArcsec, before.standardArcsec, sweep.standardArcsec);
    if (isSame) run!.push(sweep);
    else runs.push([sweep]);
  }
  return runs.filter((run) => run.length >= 2);
}

/**
 * Standard deviation of the slope over repeated sweeps, and what it is as the repeatability s of one reading: the
 * uncertainty has sqrt(2) s / L for it, two readings a swept length L apart (see `slopeUncertainty`), so
 * s = sd(slope) · L / sqrt(2), on the dial. The scatter about each line is in it and is counted once more: on the
 * safe side. Null: fewer than two, or over different lengths.
 */
export function repeatsOf(
  job: string,
  sweeps: readonly RepeatedSweep[],
  unit: LengthUnit,
): Repeats | null {
  const [first] = sweeps;
  const angles = sweeps.map(({ slope }) => arcsecFromRadians(Math.atan(slope)));
  const slopes = spreadOf(sweeps.map(({ slope }) => slope));
  const spread = spreadOf(angles);
  if (!first || spread?.standardDeviation == null || slopes?.standardDeviation == null) return null;
  const lengthMm = spreadOf(sweeps.map((sweep) => sweep.lengthMm))!.mean;
  const readingMm =
    (slopes.standardDeviation * lengthMm) / (Math.SQRT2 * Math.abs(first.surfacePerReading));
  const knownWithinShare = standardDeviationKnownWithin(sweeps.length);
  const enough = sweeps.length >= ENOUGH_REPEATS;
  const angle = formatAngle(radiansFromArcsec(spread.standardDeviation));
  const words =
    `${sweeps.length} sweeps at ${first.stage} with no tap noticed between repeat to ${angle} (standard deviation, ` +
    `known to within ${Math.round(100 * knownWithinShare)} %). As one reading of the dial that is ` +
    `${formatLength(readingMm, unit, { decimals: unit === 'in' ? 6 : 5 })}: the standard deviation of the slope, ` +
    `times the swept length, over √2.` +
    (enough ? '' : ` From ${ENOUGH_REPEATS} sweeps on it may be reckoned with.`);
  return {
    job,
    stage: first.stage,
    sweeps: sweeps.map(({ number }) => number),
    lengthMm,
    meanArcsec: spread.mean,
    spreadArcsec: spread.standardDeviation,
    knownWithinShare,
    readingMm,
    enough,
    words,
  };
}
