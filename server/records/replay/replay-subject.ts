import type { Fault } from '@taptrue/protocol';
import { isoOf } from '../../files/iso-time.ts';
import { idOf } from '../store/append.ts';
import type { Database } from '../store/database.ts';
import { marksOf } from '../store/read-overview.ts';
import { chunkHeads, chunkLines } from '../store/read-record.ts';
import type { ReplaySubject } from './replay-engine.ts';
import { noSuchJob, noSuchSweep } from './replay-faults.ts';

/** What is to be replayed, found in the store: a whole job, or the time of one of its sweeps. */
export function subjectOf(
  db: Database,
  ask: { id: string; job: string; sweep: number | null },
): { ok: true; subject: ReplaySubject } | { ok: false; fault: Fault } {
  const { id, job, sweep } = ask;
  const jobId = idOf(db, job);
  const heads = chunkHeads(db, job);
  if (jobId === null || heads.length === 0) return { ok: false, fault: noSuchJob(job) };
  const span =
    sweep === null
      ? { beginsMs: heads[0]!.firstAtMs, endsMs: heads.at(-1)!.lastAtMs }
      : spanOf(db, jobId, sweep);
  if (!span) return { ok: false, fault: noSuchSweep(job, sweep!) };
  return {
    ok: true,
    subject: {
      id,
      job,
      sweep,
      ...span,
      wallClock: timeOfDay(db, jobId, span.beginsMs),
      pieces: { heads, lines: (seq) => chunkLines(db, { job, seq }) },
      marks: marksOf(db, job),
    },
  };
}

function spanOf(db: Database, jobId: number, sweep: number) {
  const row = db.get(
    'SELECT from_ms, to_ms FROM sweep WHERE job_id = ? AND number = ?',
    jobId,
    sweep,
  );
  return row && { beginsMs: Number(row.from_ms), endsMs: Number(row.to_ms) };
}

/** By the last `opened` or `resumed`; before that the clock may have stood still, and the time is about right. */
function timeOfDay(db: Database, jobId: number, atMs: number): string {
  const row = db.get('SELECT clock_at_ms, clock_at FROM job WHERE id = ?', jobId);
  const epochMs = Date.parse(String(row?.clock_at)) + atMs - Number(row?.clock_at_ms);
  return isoOf(epochMs) ?? '';
}
