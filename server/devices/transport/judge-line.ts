/** What is known of an open line at one moment; times monotonic, milliseconds, null: not yet. */
export interface LineHistory {
  nowMs: number;
  openedAtMs: number;
  lastBytesAtMs: number | null;
  lastReadingAtMs: number | null;
  /** Since when what comes is no reading to be used (garbage, another channel, another unit); else null. */
  missedSinceMs: number | null;
  silentAfterMs: number;
  /** The device sends only when its key is pressed: silence is then no fault. */
  sendsByKey: boolean;
}

export type LineJudgement =
  | { kind: 'in time'; lookAgainInMs: number }
  | { kind: 'silent' }
  | { kind: 'waiting for its key' }
  | { kind: 'not understood' };

/**
 * Whether an open line gives readings in time. Bytes that still arrive without a reading are "not
 * understood"; nothing arriving is "silent", or where a key sends it, waiting. Pure.
 */
export function judgeLine(line: LineHistory): LineJudgement {
  const since = line.lastReadingAtMs ?? line.openedAtMs;
  const missed = line.missedSinceMs !== null;
  const from = line.sendsByKey ? (line.missedSinceMs ?? since) : since;
  const withoutReadingMs = line.nowMs - from;
  if (withoutReadingMs < line.silentAfterMs) {
    return { kind: 'in time', lookAgainInMs: line.silentAfterMs - withoutReadingMs };
  }
  if (line.sendsByKey) return { kind: missed ? 'not understood' : 'waiting for its key' };
  const quietMs = line.nowMs - (line.lastBytesAtMs ?? Number.NEGATIVE_INFINITY);
  return { kind: quietMs < line.silentAfterMs ? 'not understood' : 'silent' };
}
