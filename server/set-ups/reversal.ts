/** Two sweeps of one thing with the tool turned end for end (or round) between them. */
export interface Reversal {
  /** What stayed as it was: the part on the bar, the travel under the square. */
  kept: number;
  /** What was turned: unequal rolls and the face of the bar, the error of the square. */
  turned: number;
  keptStandard: number | null;
  turnedStandard: number | null;
}

/**
 * Reversal: first = kept + turned, second = kept - turned, in one frame of signs (slopes, or radians).
 * An error that does not turn with the tool, such as the centre distance of a bar, stays in `kept`.
 * Standard uncertainties of the two are independent; null: not known.
 */
export function reversal(
  first: number,
  second: number,
  firstStandard: number | null = null,
  secondStandard: number | null = null,
): Reversal {
  const standard =
    firstStandard === null || secondStandard === null
      ? null
      : Math.hypot(firstStandard, secondStandard) / 2;
  return {
    kept: (first + second) / 2,
    turned: (first - second) / 2,
    keptStandard: standard,
    turnedStandard: standard,
  };
}
