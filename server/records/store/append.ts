import { deflateSync } from 'node:zlib';
import type { RecordEntry, RecordEntryOf } from '@taptrue/protocol';
import { addMark } from './add-mark.ts';
import type { Database } from './database.ts';
import { indexEntry } from './index-entry.ts';
import { saysWords, tellWords } from './index-words.ts';
import type { RecordBatch } from './record-batch.ts';

/** Where a job comes from that this bench measured itself. */
export const MEASURED_HERE = 'measured here';

const READING = '{"entry":"reading"';

/**
 * Adds one batch to a job's record, with what is searched by, in one commit. A batch of a number that is kept
 * already is passed over: its answer was lost, not its entries.
 * @throws with an SQLite `code` where the disk refuses; then nothing of it is kept.
 */
export function append(db: Database, batch: RecordBatch): void {
  appendAll(db, [batch]);
}

/** The same for several pieces in one commit. */
export function appendAll(db: Database, batches: readonly RecordBatch[]): void {
  db.inOne(() => {
    for (const batch of batches) addPiece(db, batch);
  });
}

function addPiece(db: Database, batch: RecordBatch): void {
  const others = batch.lines
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith(READING))
    .map((line) => JSON.parse(line) as RecordEntry);
  const [first] = others;
  const jobId =
    idOf(db, batch.job) ??
    (batch.seq === 1 && first?.entry === 'opened' ? begin(db, first, batch.origin) : null);
  if (jobId === null) throw new Error(`the record of ${batch.job} has no beginning`);
  const kept = db.run(
    `INSERT OR IGNORE INTO chunk
       (job_id, seq, entries, readings, first_at_ms, last_at_ms, low_mm, high_mm, body)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    jobId,
    batch.seq,
    batch.entries,
    batch.readings,
    batch.firstAtMs,
    batch.lastAtMs,
    batch.lowMm,
    batch.highMm,
    deflateSync(batch.lines),
  );
  if (kept.changes === 0) return;
  db.run(
    'UPDATE job SET entries = entries + ?, readings = readings + ? WHERE id = ?',
    batch.entries,
    batch.readings,
    jobId,
  );
  for (const entry of others) {
    indexEntry(db, jobId, entry);
    addMark(db, jobId, entry);
  }
  if (others.some(saysWords)) tellWords(db, jobId);
  // A job from elsewhere is never the one that is going on here, whatever its last entry says.
  if (batch.origin !== undefined) db.run('UPDATE job SET is_open = 0 WHERE id = ?', jobId);
}

export function idOf(db: Database, key: string): number | null {
  const row = db.get('SELECT id FROM job WHERE key = ?', key);
  return row ? Number(row.id) : null;
}

function begin(db: Database, opened: RecordEntryOf<'opened'>, origin = MEASURED_HERE): number {
  const { start, wallClock, bench, simulated } = opened;
  const { lastId } = db.run(
    `INSERT INTO job (key, number, bench, started_at, last_at, is_simulated, origin)
     VALUES (?, ?, ?, ?, ?, ?, ?)`,
    start.key,
    start.job,
    bench,
    wallClock,
    wallClock,
    simulated ? 1 : 0,
    origin,
  );
  return lastId;
}
