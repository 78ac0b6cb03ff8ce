/**
 * Readings come in whole counts when so many are equal that fewer than half of them differ; the count is
 * then the smallest difference seen. Scattered readings hardly ever repeat to the last digit.
 */
const SHARE_THAT_DIFFERS = 0.5;

/** Differences below this are the last binary digit of one and the same reading, mm. */
const SAME_READING_MM = 1e-9;

/** The indicator's count as seen in its readings, mm; null where they do not come in visible counts. */
export function countSeenMm(readingsMm: ArrayLike<number>): number | null {
  const sorted = Float64Array.from(readingsMm).sort();
  let smallest = Number.POSITIVE_INFINITY;
  let different = 1;
  for (let index = 1; index < sorted.length; index += 1) {
    const step = sorted[index]! - sorted[index - 1]!;
    if (step <= SAME_READING_MM) continue;
    different += 1;
    smallest = Math.min(smallest, step);
  }
  if (different < 2 || different > SHARE_THAT_DIFFERS * sorted.length) return null;
  return smallest;
}
