/** Mean and spread of a few figures. `standardDeviation` has n - 1; null with one. */
export interface Spread {
  count: number;
  mean: number;
  standardDeviation: number | null;
}

/** null: there is none. */
export function spreadOf(values: readonly number[]): Spread | null {
  const count = values.length;
  if (count === 0) return null;
  // The first is taken off before anything is added: figures that lie close together keep their digits.
  const from = values[0]!;
  const mean = from + values.reduce((sum, value) => sum + (value - from), 0) / count;
  if (count === 1) return { count, mean, standardDeviation: null };
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { count, mean, standardDeviation: Math.sqrt(squares / (count - 1)) };
}

/**
 * How well a standard deviation of so many figures is itself known, as a share of it: the exact form for normally
 * distributed figures that JCGM 100:2008 (GUM), Table E.1, is made of; 0.76 for two, 0.36 for five.
 */
export function standardDeviationKnownWithin(count: number): number {
  const c4 = meanOfStandardDeviation(count);
  return Math.sqrt(1 - c4 * c4) / c4;
}

/** Expected standard deviation of `count` normal figures over the true one: sqrt(2/(n-1)) Γ(n/2)/Γ((n-1)/2). */
function meanOfStandardDeviation(count: number): number {
  // Γ(n/2)/Γ((n-1)/2) step by step: from sqrt(1/π) at n = 2, each step by (n-2)/2 over the step before.
  let ratio = 1 / Math.sqrt(Math.PI);
  for (let n = 3; n <= count; n += 1) ratio = (n - 2) / 2 / ratio;
  return Math.sqrt(2 / (count - 1)) * ratio;
}
