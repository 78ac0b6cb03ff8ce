import type { Database, Row } from '../store/database.ts';
import { linesOf } from '../store/read-record.ts';
import { RecordingRefused } from './recording-faults.ts';
import { storedLines } from './stored-recording.ts';
import { type JobToldAgain, tellAgain } from './told-again.ts';

/** One kept job, checked: its pieces, what is searched by, and its results told again. */
export interface JobVerified extends JobToldAgain {
  /** What is wrong with how it is kept, in sentences; empty: nothing. */
  wrong: string[];
}

/** What SQLite itself finds wrong with the file, in its words; empty: nothing. */
export function fileWrong(db: Database): string[] {
  try {
    const found = db.all('PRAGMA integrity_check').map((row) => String(row.integrity_check));
    return found.length === 1 && found[0] === 'ok' ? [] : found;
  } catch (error) {
    // Damaged so that not even the check runs through.
    return [why(error)];
  }
}

/**
 * Every kept job, or one, from its pieces to its verdicts. Each is looked at as it is at one moment, so that what a
 * running service adds meanwhile is not taken for damage.
 */
export function* verifyStore(db: Database, key: string | null = null): Generator<JobVerified> {
  const keys =
    key === null ? db.all('SELECT key FROM job ORDER BY id').map((row) => String(row.key)) : [key];
  for (const one of keys) {
    const verified = atOneMoment(db, () => verifyJob(db, one));
    if (verified) yield verified;
  }
}

/** null: it is not kept, or is no more since the bin was emptied. */
function verifyJob(db: Database, key: string): JobVerified | null {
  try {
    const job = db.get('SELECT id, entries, readings FROM job WHERE key = ?', key);
    if (!job) return null;
    const wrong = piecesWrong(db, job);
    const told = tellStored(db, key, wrong);
    if (told === null) return null;
    wrong.push(...indexWrong(db, job, told));
    return { ...told, wrong };
  } catch (error) {
    return { ...unread(key), wrong: [`what is kept of it cannot be read: ${why(error)}`] };
  }
}

function atOneMoment<T>(db: Database, read: () => T): T {
  db.exec('BEGIN');
  try {
    return read();
  } finally {
    // A damaged file has ended it already; then there is nothing left to end.
    try {
      db.exec('ROLLBACK');
    } catch {}
  }
}

function why(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

function tellStored(db: Database, key: string, wrong: string[]): JobToldAgain | null {
  try {
    const [told] = tellAgain(storedLines(db, key));
    return told ?? null;
  } catch (error) {
    if (error instanceof RecordingRefused) throw error;
    wrong.push(`the record cannot be read to its end: ${String(error)}`);
    return unread(key);
  }
}

function unread(job: string): JobToldAgain {
  return {
    job,
    number: null,
    bench: null,
    began: null,
    version: null,
    isOurVersion: false,
    simulated: false,
    lines: 0,
    fingerprint: '',
    sweeps: [],
    same: 0,
    different: 0,
    differences: [],
    signatures: [],
    refused: null,
  };
}

/** Each piece opens, holds what is said beside it, and none is missing between two. */
function piecesWrong(db: Database, job: Row): string[] {
  const wrong: string[] = [];
  let before = 0;
  const sum = { entries: 0, readings: 0 };
  const pieces = db.each(
    'SELECT seq, entries, readings, body FROM chunk WHERE job_id = ? ORDER BY seq',
    Number(job.id),
  );
  for (const { seq, entries, readings, body } of pieces) {
    if (Number(seq) !== before + 1)
      wrong.push(`pieces ${before + 1} to ${Number(seq) - 1} are missing`);
    before = Number(seq);
    sum.entries += Number(entries);
    sum.readings += Number(readings);
    try {
      const lines = linesOf(body).split('\n').length - 1;
      if (lines !== Number(entries))
        wrong.push(`piece ${seq} holds ${lines} lines where ${entries} were written`);
    } catch (error) {
      wrong.push(`piece ${seq} is damaged: ${String(error)}`);
    }
  }
  for (const name of ['entries', 'readings'] as const) {
    if (sum[name] !== Number(job[name]))
      wrong.push(`${sum[name]} ${name} are kept where ${job[name]} are counted`);
  }
  return wrong;
}

/** The list shows what the record says. */
function indexWrong(db: Database, job: Row, told: JobToldAgain): string[] {
  const rows = db.all(
    'SELECT number, verdict, out_of_true_arcsec FROM sweep WHERE job_id = ? ORDER BY number',
    Number(job.id),
  );
  const recorded = told.sweeps.filter(({ recorded: result }) => result !== null);
  const listed = rows.filter(({ out_of_true_arcsec: arcsec }) => arcsec !== null);
  if (recorded.length !== listed.length)
    return [`the list has ${listed.length} sweeps with a result, the record ${recorded.length}`];
  return recorded.flatMap(({ sweep, recorded: result }, index) => {
    const row = listed[index]!;
    const isSame =
      row.number === sweep &&
      row.verdict === result!.verdict &&
      row.out_of_true_arcsec === result!.outOfTrueArcsec;
    return isSame ? [] : [`the list says otherwise of sweep ${sweep} than the record`];
  });
}
