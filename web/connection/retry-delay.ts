/** First wait before connecting again. Short: a service restarted at the machine is back within a second. */
export const FIRST_RETRY_MS = 250;
/** Longest wait. A page that has been alone all night must notice the service within this. */
export const LONGEST_RETRY_MS = 2_000;

/**
 * Wait before attempt number `attempt` (0 is the first retry), milliseconds. `random` in 0..1 spreads the
 * screens of one shop over half to whole of the wait, so that they do not all knock at once.
 */
export function retryDelayMs(attempt: number, random: number): number {
  const whole = Math.min(LONGEST_RETRY_MS, FIRST_RETRY_MS * 2 ** Math.min(attempt, 10));
  return Math.round(whole * (0.5 + 0.5 * random));
}
