import { radiansFromArcsec, type SweepResult } from '@taptrue/protocol';
import { welchSatterthwaite } from '../measure/verdict/uncertainty.ts';
import { reversal } from './reversal.ts';

/** The angle of a swept face, and what is known of it. Radians. */
export interface SweptAngle {
  angleRad: number;
  standardRad: number | null;
  degreesOfFreedom: number | null;
  /** What turned with the bar; null: it was not turned. */
  turnedRad: number | null;
}

export function asItLies(result: SweepResult): SweptAngle {
  return {
    angleRad: result.outOfTrueRad,
    standardRad: standardOf(result),
    degreesOfFreedom: result.degreesOfFreedom,
    turnedRad: null,
  };
}

function standardOf({ angleStandardUncertaintyArcsec: arcsec }: SweepResult): number | null {
  return arcsec === null ? null : radiansFromArcsec(arcsec);
}

/** Both ways round: the mean is the part's, half the difference the bar's. */
export function turnedRound(first: SweepResult, second: SweepResult): SweptAngle {
  const [u1, u2] = [standardOf(first), standardOf(second)];
  const found = reversal(first.outOfTrueRad, second.outOfTrueRad, u1, u2);
  return {
    angleRad: found.kept,
    standardRad: found.keptStandard,
    degreesOfFreedom:
      found.keptStandard === null || u1 === null || u2 === null
        ? null
        : welchSatterthwaite(found.keptStandard, [
            [u1 / 2, first.degreesOfFreedom],
            [u2 / 2, second.degreesOfFreedom],
          ]),
    turnedRad: found.turned,
  };
}
