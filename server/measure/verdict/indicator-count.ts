/** Differences below this are the last binary digit of one and the same reading, mm. */
const SAME_READING_MM = 1e-9;

/** How near to a whole number of counts every difference must be, in counts. By chance one in 25 is. */
const WHOLE_COUNT_TOLERANCE = 0.02;

/** With fewer readings that differ, whole multiples of the smallest difference prove nothing. */
const LEAST_DIFFERENT = 4;

/**
 * The coarsest count met at this job, 0.0005 in. Readings that differ by more are not taken for
 * neighbours on a dial: a clean jump of 0.003 in between two groups of equal readings is a jump.
 */
const COARSEST_COUNT_MM = 0.0127;

/**
 * The indicator's count as seen in its readings, mm: the smallest difference between two of them, where
 * all others are whole multiples of it, or where nearly all readings are equal. null: not to be seen.
 */
export function countSeenMm(readingsMm: ArrayLike<number>): number | null {
  const sorted = Float64Array.from(readingsMm).sort();
  const gaps: number[] = [];
  for (let index = 1; index < sorted.length; index += 1) {
    const gap = sorted[index]! - sorted[index - 1]!;
    if (gap > SAME_READING_MM) gaps.push(gap);
  }
  if (gaps.length === 0) return null;
  const smallest = gaps.reduce((least, gap) => Math.min(least, gap));
  const different = gaps.length + 1;
  const allWhole = gaps.every(
    (gap) => Math.abs(gap / smallest - Math.round(gap / smallest)) < WHOLE_COUNT_TOLERANCE,
  );
  if (!allWhole) return null;
  if (different < LEAST_DIFFERENT && different > sorted.length / 2) return null;
  return Math.min(smallest, COARSEST_COUNT_MM);
}
