import type { RecordEntry, RecordEntryOf } from '@taptrue/protocol';
import type { Database } from '../store/database.ts';
import { jobNotKept, RecordingRefused, sweepNotKept } from './recording-faults.ts';
import { piecesOf } from './stored-recording.ts';
import { sweepCsv } from './sweep-csv.ts';

const SWEEP_ENDED = '{"entry":"sweep ended"';
const OPENED = '{"entry":"opened"';

/** The points of a kept sweep as a table. @throws RecordingRefused where there is no such job or sweep. */
export function storedSweepCsv(db: Database, key: string, sweep: number): string {
  let jobNumber: number | null = null;
  for (const piece of piecesOf(db, key)) {
    for (const line of piece.split('\n')) {
      if (line.startsWith(OPENED)) jobNumber = entryOf<'opened'>(line).start.job;
      if (!line.startsWith(SWEEP_ENDED)) continue;
      const ended = entryOf<'sweep ended'>(line);
      if (ended.sweep === sweep) return sweepCsv(ended, { job: key, jobNumber: jobNumber ?? 0 });
    }
  }
  if (jobNumber === null) throw new RecordingRefused(null, jobNotKept(key));
  throw new RecordingRefused(null, sweepNotKept(`sweep ${sweep} of job ${jobNumber}`));
}

function entryOf<K extends RecordEntry['entry']>(line: string): RecordEntryOf<K> {
  return JSON.parse(line) as RecordEntryOf<K>;
}
