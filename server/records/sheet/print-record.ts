import type { Fault } from '@taptrue/protocol';
import { jobNotKept, RecordingRefused } from '../exchange/recording-faults.ts';
import { storedLines } from '../exchange/stored-recording.ts';
import type { Database } from '../store/database.ts';
import { isDamage, recordNotRead } from '../store/store-faults.ts';
import { proofSheet, type SheetOptions } from './proof-sheet.ts';
import { type SheetFacts, sheetFacts } from './sheet-facts.ts';

/** What a kept job's page is printed from. @throws RecordingRefused where there is nothing to print. */
export function keptSheetFacts(db: Database, key: string): SheetFacts {
  const job = db.get('SELECT number FROM job WHERE key = ?', key);
  if (!job) throw new RecordingRefused(null, jobNotKept(key));
  const facts = sheetFacts(storedLines(db, key));
  if (!facts) throw new RecordingRefused(null, noResult(Number(job.number)));
  return facts;
}

function noResult(number: number): Fault {
  return {
    code: 'no-result-to-print',
    what: 'This job has no sweep with a result yet; a record would say nothing.',
    got: `job ${number}`,
    remedy: 'Sweep to the end, then print.',
  };
}

export type SheetAsk = { job: string } & SheetOptions;

/** The page of a kept job, as HTML; or why there is none. */
export function keptSheet(
  db: Database,
  { job, ...options }: SheetAsk,
): { ok: true; html: string } | { ok: false; fault: Fault } {
  try {
    return { ok: true, html: proofSheet(keptSheetFacts(db, job), options) };
  } catch (error) {
    if (error instanceof RecordingRefused) return { ok: false, fault: error.fault };
    // A piece or a page of the file is damaged: whoever opened the page is told so on it.
    if (isDamage(error)) return { ok: false, fault: recordNotRead(job, error) };
    throw error;
  }
}
