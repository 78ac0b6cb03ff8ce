const FIRST_DELAY_MS = 250;
/** A device plugged in again must be live within 2 s, also after dinner: opening takes part of that time. */
const LONGEST_DELAY_MS = 1000;

/** How long to wait before the next try to open, after `failures` (1 or more) in a row: 0.25, 0.5, then 1 s. Pure. */
export function retryDelayMs(failures: number): number {
  return Math.min(FIRST_DELAY_MS * 2 ** Math.min(failures - 1, 10), LONGEST_DELAY_MS);
}
