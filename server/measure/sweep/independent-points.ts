/** One-sided 95 % point of the normal distribution: below it a correlation may well be chance. */
const SIGNIFICANT = 1.645;

/** A line needs more than two points to say anything of itself, however alike they are. */
const FEWEST_INDEPENDENT = 3;

/**
 * How many of n points count as independent, from the correlation of neighbouring residuals taken in order
 * of position: n (1 - r) / (1 + r), as in Santer et al. 2000 (J. Geophys. Res. 105, 7337). Applied only
 * where r is significantly positive (more than 1.645 / sqrt(n)), so that points that are independent keep
 * the plain n - 2. Neighbouring bins of one bow, or of a dragging magnet, are not independent.
 */
export function independentPoints(residualsInOrderMm: ArrayLike<number>): number {
  const count = residualsInOrderMm.length;
  let squares = 0;
  let products = 0;
  for (let index = 0; index < count; index += 1) {
    const residual = residualsInOrderMm[index]!;
    squares += residual * residual;
    if (index > 0) products += residual * residualsInOrderMm[index - 1]!;
  }
  if (squares === 0 || count < FEWEST_INDEPENDENT) return count;
  const correlation = products / squares;
  if (correlation <= SIGNIFICANT / Math.sqrt(count)) return count;
  return Math.max(FEWEST_INDEPENDENT, (count * (1 - correlation)) / (1 + correlation));
}
