import type { RecordEntryOf } from '@taptrue/protocol';
import { append, idOf } from './append.ts';
import type { Database } from './database.ts';

/** What may be written to a job that no longer goes on. */
export type LateEntry = RecordEntryOf<'note' | 'note struck out' | 'tagged'>;

/**
 * Adds one entry behind the last of a kept job, as a piece of its own. Its time by the job's clock is that of the
 * last entry, because that clock stands; the time of day beside it says when it was written. False: no such job.
 */
export function addEntry(db: Database, ask: { job: string; entry: LateEntry }): boolean {
  const jobId = idOf(db, ask.job);
  if (jobId === null) return false;
  const last = db.get(
    'SELECT max(seq) AS seq, max(last_at_ms) AS at_ms FROM chunk WHERE job_id = ?',
    jobId,
  );
  const atMs = Number(last?.at_ms ?? 0);
  // The number of the piece is taken here, where nothing else can write between.
  append(db, {
    job: ask.job,
    seq: Number(last?.seq ?? 0) + 1,
    lines: `${JSON.stringify({ ...ask.entry, atMs })}\n`,
    entries: 1,
    readings: 0,
    firstAtMs: atMs,
    lastAtMs: atMs,
    lowMm: null,
    highMm: null,
  });
  return true;
}
