/** The largest rung of the 1-2-5 ladder, by which rules and dials are graduated, not above `value` (> 0). */
export function rungAtMost(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  for (const rung of [5, 2]) {
    if (rung * decade <= value * (1 + 1e-9)) return rung * decade;
  }
  return decade;
}
