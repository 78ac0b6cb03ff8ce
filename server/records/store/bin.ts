import { createHash } from 'node:crypto';
import type { Database } from './database.ts';
import { linesOf } from './read-record.ts';

export interface BinAsk {
  jobs: readonly string[];
  /** Time of day, ISO 8601. */
  at: string;
}

/** Puts jobs into the bin; those that are there already stay. How many were put. */
export function binJobs(db: Database, { jobs, at }: BinAsk): number {
  return db.inOne(() =>
    jobs.reduce(
      (sum, key) =>
        sum +
        db.run('UPDATE job SET binned_at = ? WHERE key = ? AND binned_at IS NULL', at, key).changes,
      0,
    ),
  );
}

/** Takes jobs out of the bin as they were. How many came back. */
export function restoreJobs(db: Database, { jobs }: Pick<BinAsk, 'jobs'>): number {
  return db.inOne(() =>
    jobs.reduce(
      (sum, key) =>
        sum +
        db.run('UPDATE job SET binned_at = NULL WHERE key = ? AND binned_at IS NOT NULL', key)
          .changes,
      0,
    ),
  );
}

/** Everything that was kept of a job, but for the job itself. */
const TABLES = ['chunk', 'sweep', 'tap', 'turn', 'note', 'tag'] as const;

/**
 * Deletes what lies in the bin and leaves a tombstone of each job: its key, number, dates, counts and the SHA-256
 * of its lines, so that what is kept elsewhere can be told to be the same. Signed jobs stay in the bin.
 */
export function emptyBin(db: Database, at: string): { emptied: number; signed: number } {
  return db.inOne(() => {
    const binned = db.all(
      `SELECT id, key, number, started_at, last_at, sweeps, entries, signatures FROM job
       WHERE binned_at IS NOT NULL`,
    );
    const gone = binned.filter(({ signatures }) => Number(signatures) === 0);
    for (const job of gone) {
      const id = Number(job.id);
      db.run(
        `INSERT OR REPLACE INTO tombstone
           (key, number, started_at, last_at, emptied_at, sweeps, entries, sha256)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
        String(job.key),
        Number(job.number),
        String(job.started_at),
        String(job.last_at),
        at,
        Number(job.sweeps),
        Number(job.entries),
        sha256OfLines(db, id),
      );
      for (const table of TABLES) db.run(`DELETE FROM ${table} WHERE job_id = ?`, id);
      db.run('DELETE FROM job_text WHERE rowid = ?', id);
      db.run('DELETE FROM job WHERE id = ?', id);
    }
    return { emptied: gone.length, signed: binned.length - gone.length };
  });
}

/** Over the lines of the record as they were kept, each with its line end. One piece in memory at a time. */
function sha256OfLines(db: Database, jobId: number): string {
  const hash = createHash('sha256');
  const pieces = db.all('SELECT seq FROM chunk WHERE job_id = ? ORDER BY seq', jobId);
  for (const { seq } of pieces) {
    const row = db.get('SELECT body FROM chunk WHERE job_id = ? AND seq = ?', jobId, Number(seq));
    if (row) hash.update(linesOf(row.body));
  }
  return hash.digest('hex');
}
