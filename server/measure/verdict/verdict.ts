import type { Caution, DecisionRule, Limit, Verdict } from '@taptrue/protocol';
import { studentT } from './student-t.ts';

/** One-sided, because only one edge of the limit can be overstepped at a time. */
const GUARD_PROBABILITY = 0.95;

/**
 * How many standard uncertainties the limit is guarded by: Student's t(0.95, ν). With few points the scatter
 * itself is known badly: guarded by the normal 1.645 u, three stations called 18 % of the lines just outside
 * the limit true where 5 % are claimed. null: ν is large.
 */
export function guardFactor(degreesOfFreedom: number | null): number {
  return studentT(GUARD_PROBABILITY, degreesOfFreedom);
}

/** A figure that equals the limit to rounding is inside it: 0.0010 in against a limit of 0.0010 in. */
const ROUNDING = 1e-9;

/** The limit as an angle, radians. An end-to-end limit without a length of its own is over the swept length. */
export function limitRad(limit: Limit, sweptLengthMm: number): number {
  return limit.kind === 'angle' ? limit.rad : Math.atan(limit.mm / (limit.overMm ?? sweptLengthMm));
}

export interface Judged {
  verdict: Verdict;
  cautions: Caution[];
}

/**
 * Compares a deviation with its limit. Guarded: `true` only where it is inside even if it is t u
 * larger than it looks, `not true` only where it is outside even if it is as much smaller (one-sided
 * guard band of 95 %, as ISO 14253-1 does, from memory). Plain: the figure as it is.
 * All in radians; u null: not known; degrees of freedom null: large.
 */
export function judge(
  deviationRad: number,
  standardUncertaintyRad: number | null,
  limit: number,
  rule: DecisionRule,
  degreesOfFreedom: number | null,
): Judged {
  const size = Math.abs(deviationRad);
  const edge = limit * (1 + ROUNDING);
  if (rule === 'plain') {
    const caution: Caution = {
      code: 'plain-comparison',
      text: 'The figure was compared with the limit as it is, without guarding for its uncertainty.',
    };
    return { verdict: size <= edge ? 'true' : 'not true', cautions: [caution] };
  }
  if (standardUncertaintyRad === null) {
    const caution: Caution = {
      code: 'uncertainty-not-known',
      text: 'Two stations leave nothing to judge their scatter by, and how well this bench repeats is not known: too close to call. Take nine stations; or sweep five times with nothing touched and take over what the bench repeats to.',
    };
    return { verdict: 'too close to call', cautions: [caution] };
  }
  const guard = guardFactor(degreesOfFreedom) * standardUncertaintyRad;
  if (size + guard <= edge) return { verdict: 'true', cautions: [] };
  if (size - guard > edge) return { verdict: 'not true', cautions: [] };
  return { verdict: 'too close to call', cautions: [] };
}
