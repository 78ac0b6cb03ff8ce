import type { RecordEntry } from '@taptrue/protocol';
import { markOf } from '../journal/mark-of.ts';
import type { Database } from './database.ts';

/** Keeps an entry's mark beside the record, so that a long one need not be opened to find it. */
export function addMark(db: Database, jobId: number, entry: RecordEntry): void {
  const mark = markOf(entry);
  if (mark === null) return;
  db.run(
    'INSERT INTO mark (job_id, at_ms, kind, text) VALUES (?, ?, ?, ?)',
    jobId,
    mark.atMs,
    mark.kind,
    mark.text,
  );
}
