import { inflateSync } from 'node:zlib';
import { idOf, MEASURED_HERE } from './append.ts';
import type { Database, Row } from './database.ts';

/** A piece of a record without its body, to choose by. */
export interface ChunkHead {
  seq: number;
  entries: number;
  readings: number;
  firstAtMs: number;
  lastAtMs: number;
  lowMm: number | null;
  highMm: number | null;
}

/** Lines of JSON of one chunk, each with its line end. @throws where the bytes were damaged on disk. */
export function linesOf(body: unknown): string {
  return inflateSync(Buffer.from(body as ArrayBuffer)).toString('utf8');
}

/** The pieces of a job's record, oldest first; none where there is no such job. */
export function chunkHeads(db: Database, key: string): ChunkHead[] {
  const jobId = idOf(db, key);
  if (jobId === null) return [];
  return db
    .all(
      `SELECT seq, entries, readings, first_at_ms, last_at_ms, low_mm, high_mm
       FROM chunk WHERE job_id = ? ORDER BY seq`,
      jobId,
    )
    .map(headOf);
}

/** The entries of one piece as lines of JSON; '' where there is none. */
export function chunkLines(db: Database, ask: { job: string; seq: number }): string {
  const row = db.get(
    'SELECT body FROM chunk WHERE job_id = (SELECT id FROM job WHERE key = ?) AND seq = ?',
    ask.job,
    ask.seq,
  );
  return row ? linesOf(row.body) : '';
}

function headOf(row: Row): ChunkHead {
  return {
    seq: Number(row.seq),
    entries: Number(row.entries),
    readings: Number(row.readings),
    firstAtMs: Number(row.first_at_ms),
    lastAtMs: Number(row.last_at_ms),
    lowMm: row.low_mm === null ? null : Number(row.low_mm),
    highMm: row.high_mm === null ? null : Number(row.high_mm),
  };
}

/** The job that was going on when the service ended, and the greatest number and clock ever used. */
export function whereItStood(db: Database): {
  openJob: string | null;
  jobs: number;
  lastSeq: number;
  lastAtMs: number;
} {
  // Only the newest can be going on: one that was left open long ago, because it could not be read back, is over.
  const newest = db.get(
    'SELECT id, key, is_open FROM job WHERE origin = ? ORDER BY id DESC LIMIT 1',
    MEASURED_HERE,
  );
  const open = newest?.is_open === 1 ? newest : null;
  // Jobs from elsewhere have numbers of their own bench.
  const numbers = db.get('SELECT max(number) AS most FROM job WHERE origin = ?', MEASURED_HERE);
  const last =
    open &&
    db.get(
      'SELECT max(seq) AS seq, max(last_at_ms) AS at_ms FROM chunk WHERE job_id = ?',
      Number(open.id),
    );
  return {
    openJob: open ? String(open.key) : null,
    jobs: Number(numbers?.most ?? 0),
    lastSeq: Number(last?.seq ?? 0),
    lastAtMs: Number(last?.at_ms ?? 0),
  };
}
