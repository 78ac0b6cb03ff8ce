import type { Budget, RecordEntryOf, SweepResult, Verdict } from '@taptrue/protocol';
import { RADIANS_PER_ARCSEC } from '@taptrue/protocol';
import { judge } from '../../measure/verdict/verdict.ts';
import { combineBudget } from '../../plan/budget/combine.ts';

/** The jaw's angle as it stands after a sweep, stack and bar reckoned in. Seconds of arc. */
export interface FinalAngle {
  angleArcsec: number;
  /** 95 %, sweep, stack, bar and clamping combined; null: not known. */
  expandedArcsec: number | null;
  /** The standard uncertainty that is in it, which the verdict is guarded by; null: not known. */
  standardArcsec: number | null;
  /** Of the combined uncertainty; null: large, or nothing is known. */
  degreesOfFreedom: number | null;
  /** What it is off the angle wanted, signed. */
  offArcsec: number;
  toleranceArcsec: number | null;
  /** Against the tolerance of the print, guarded by the combined uncertainty; null: none is given. */
  verdict: Verdict | null;
}

/** Lines of a plan's budget that a real sweep takes the place of. */
function isPlannedSweep(name: string): boolean {
  return (
    name === 'sweep' || name.startsWith('indicator over the range') || name.startsWith('scatter of')
  );
}

/** The plan's budget with the sweep as it was measured. */
function combined(budget: Budget, result: SweepResult) {
  const u = result.angleStandardUncertaintyArcsec;
  if (u === null) return null;
  const others = budget.lines.filter(({ name }) => !isPlannedSweep(name));
  return combineBudget([
    ...others.map((line) => ({
      standardUncertainty: line.standardUncertainty,
      sensitivity: line.sensitivityArcsecPerUnit,
      degreesOfFreedom: line.degreesOfFreedom,
    })),
    { standardUncertainty: u, sensitivity: 1, degreesOfFreedom: result.degreesOfFreedom },
  ]);
}

/**
 * The angle the jaw stands at: what the stack makes of it, and what the last sweep says it is off. A vise that
 * stands too far counter-clockwise stands steeper where it was turned counter-clockwise, and flatter where it
 * was turned clockwise. Null without a plan: the sweep alone knows no angle.
 */
export function finalAngle(
  plan: RecordEntryOf<'plan used'> | null,
  result: SweepResult,
): FinalAngle | null {
  if (plan === null) return null;
  const { answer } = plan;
  const wantedArcsec = answer.angle.arcsec;
  const setArcsec = answer.angleSetDeg === null ? wantedArcsec : answer.angleSetDeg * 3600;
  const sense = answer.direction.signedJawRad < 0 ? -1 : 1;
  const angleArcsec = setArcsec + sense * result.deviationArcsec;
  const offArcsec = angleArcsec - wantedArcsec;
  const budget = answer.budget ? combined(answer.budget, result) : null;
  const { toleranceArcsec } = answer;
  return {
    angleArcsec,
    expandedArcsec: budget?.expanded ?? null,
    standardArcsec: budget?.combined ?? null,
    degreesOfFreedom: budget?.degreesOfFreedom ?? null,
    offArcsec,
    toleranceArcsec,
    verdict:
      toleranceArcsec === null || budget === null
        ? null
        : judge(
            offArcsec * RADIANS_PER_ARCSEC,
            budget.combined * RADIANS_PER_ARCSEC,
            toleranceArcsec * RADIANS_PER_ARCSEC,
            'guarded',
            budget.degreesOfFreedom,
          ).verdict,
  };
}
