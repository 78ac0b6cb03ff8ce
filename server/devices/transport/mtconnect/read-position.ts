/** A number by the standard (xs:float without INF and NaN). */
const NUMBER = /^[-+]?(?:\d+\.?(\d*)|\.(\d+))(?:[eE]([-+]?\d{1,3}))?$/;
/** Nanometres; what an agent writes beyond is the tail of a binary fraction. */
const MOST_DECIMALS = 6;

/** The text of one observation as a number with its decimals as sent, or null: absent is not zero. Pure. */
export function readPosition(text: string): { value: number; decimals: number } | null {
  const match = NUMBER.exec(text);
  if (match === null) return null;
  const value = Number(text);
  if (!Number.isFinite(value)) return null;
  const written = (match[1] ?? match[2] ?? '').length - Number(match[3] ?? 0);
  return { value, decimals: Math.min(MOST_DECIMALS, Math.max(0, written)) };
}

/** Longer ago than this is no spread of one answer, but a value that stood since. */
const LONGEST_SPREAD_MS = 1000;

/**
 * When each observation of one document was, by our clock: the newest as it arrived, the others as much
 * before it as their own timestamps say. The clocks of agent and service are never compared. Pure.
 */
export function timesOf(timestamps: readonly string[], arrivedAtMs: number): number[] {
  const stamps = timestamps.map((text) => Date.parse(text));
  const newest = Math.max(...stamps.filter(Number.isFinite));
  return stamps.map((stamp) => {
    const before = newest - stamp;
    return before > 0 && before <= LONGEST_SPREAD_MS ? arrivedAtMs - before : arrivedAtMs;
  });
}
