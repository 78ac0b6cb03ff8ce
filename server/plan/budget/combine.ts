import { coverageFactor95, studentT } from '../../measure/verdict/student-t.ts';
import { welchSatterthwaite } from '../../measure/verdict/uncertainty.ts';

/** One input of a budget: standard uncertainty in its own unit, and what one unit of it does to the result. */
export interface BudgetInput {
  standardUncertainty: number;
  sensitivity: number;
  degreesOfFreedom: number | null;
}

export interface CombinedBudget {
  /** |sensitivity| times standard uncertainty, in the unit of the result. */
  contributions: number[];
  combined: number;
  /** Welch-Satterthwaite, from unrounded contributions; null: large. */
  degreesOfFreedom: number | null;
  coverageFactor: number;
  expanded: number;
}

/**
 * JCGM 100:2008, 5.1.2 and G.4.1, inputs independent. Degrees of freedom are cut to a whole number before
 * the factor is looked up, as G.4.1 does. `probability` is two-sided.
 */
export function combineBudget(inputs: readonly BudgetInput[], probability = 0.95): CombinedBudget {
  const contributions = inputs.map((one) => Math.abs(one.sensitivity) * one.standardUncertainty);
  const combined = Math.hypot(...contributions);
  const degreesOfFreedom = welchSatterthwaite(
    combined,
    inputs.map((one, i) => [contributions[i]!, one.degreesOfFreedom] as const),
  );
  const whole = degreesOfFreedom === null ? null : Math.max(1, Math.floor(degreesOfFreedom));
  const coverageFactor =
    probability === 0.95 ? coverageFactor95(whole) : studentT((1 + probability) / 2, whole);
  return {
    contributions,
    combined,
    degreesOfFreedom,
    coverageFactor,
    expanded: coverageFactor * combined,
  };
}
