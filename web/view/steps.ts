/** The 1-2-5 ladder that rules and dials are graduated by: the smallest rung not below `value` (> 0). */
export function rungAtLeast(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  for (const rung of [1, 2, 5, 10]) {
    if (rung * decade >= value * (1 - 1e-9)) return rung * decade;
  }
  return 10 * decade;
}
