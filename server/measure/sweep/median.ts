/** The k-th smallest value (k from 0). Reorders `values`; expected cost proportional to their number. */
function selectInPlace(values: Float64Array, k: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = middleOfThree(values[low]!, values[(low + high) >> 1]!, values[high]!);
    let left = low;
    let right = high;
    while (left <= right) {
      while (values[left]! < pivot) left += 1;
      while (values[right]! > pivot) right -= 1;
      if (left <= right) {
        const swapped = values[left]!;
        values[left] = values[right]!;
        values[right] = swapped;
        left += 1;
        right -= 1;
      }
    }
    if (k <= right) high = right;
    else if (k >= left) low = left;
    else return values[k]!;
  }
  return values[k]!;
}

function middleOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}

/**
 * Median; of an even number of values the mean of the two in the middle. Reorders `values`. Selection
 * instead of sorting, because the slopes of 128 bins are 8,128 values, ten times a second.
 */
export function medianInPlace(values: Float64Array): number {
  const count = values.length;
  if (count === 0) return Number.NaN;
  const upper = selectInPlace(values, count >> 1);
  if (count % 2 === 1) return upper;
  let lower = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < count >> 1; index += 1) lower = Math.max(lower, values[index]!);
  return (lower + upper) / 2;
}

/** Median of values that stay as they are. */
export function median(values: ArrayLike<number>): number {
  return medianInPlace(Float64Array.from(values));
}
