const FIRST_DELAY_MS = 250;
/** A replugged device must be live within 2 s: it is looked for at least every second at first. */
const DELAY_IN_FIRST_MINUTE_MS = 1000;
const FIRST_MINUTE_MS = 60_000;
/** After a minute nobody is standing there with the plug in hand. */
const LONGEST_DELAY_MS = 5000;

/**
 * How long to wait before the next try to open, after `failures` (1 or more) in a row and `troubleForMs`
 * since the first of them: 0.25, 0.5, then 1 s for the first minute, doubling to 5 s after it. Pure.
 */
export function retryDelayMs(failures: number, troubleForMs: number): number {
  const doubled = FIRST_DELAY_MS * 2 ** Math.min(failures - 1, 10);
  const longest = troubleForMs < FIRST_MINUTE_MS ? DELAY_IN_FIRST_MINUTE_MS : LONGEST_DELAY_MS;
  return Math.min(doubled, longest);
}
