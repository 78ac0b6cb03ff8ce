import type { Caution, DecisionRule, Limit, Verdict } from '@taptrue/protocol';

/** One-sided 95 % of the normal distribution: how many u the limit is guarded by. */
export const GUARD_FACTOR = 1.645;

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
 * Compares a deviation with its limit. Guarded: `true` only where it is inside even if it is 1.645 u
 * larger than it looks, `not true` only where it is outside even if it is as much smaller (one-sided
 * guard band of 95 %, as ISO 14253-1 does, from memory). Plain: the figure as it is.
 * All in radians; u null: not known.
 */
export function judge(
  deviationRad: number,
  standardUncertaintyRad: number | null,
  limit: number,
  rule: DecisionRule,
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
      text: 'Two stations leave nothing to judge their scatter by, and nothing is known of the indicator: too close to call. Take more stations, or give the resolution or permissible error.',
    };
    return { verdict: 'too close to call', cautions: [caution] };
  }
  const guard = GUARD_FACTOR * standardUncertaintyRad;
  if (size + guard <= edge) return { verdict: 'true', cautions: [] };
  if (size - guard > edge) return { verdict: 'not true', cautions: [] };
  return { verdict: 'too close to call', cautions: [] };
}
