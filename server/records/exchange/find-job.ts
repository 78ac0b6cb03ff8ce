import { MEASURED_HERE } from '../store/append.ts';
import type { Database } from '../store/database.ts';
import { jobNotKept, RecordingRefused } from './recording-faults.ts';

/** A kept job as a list of files or a choice shows it. */
export interface KeptJob {
  key: string;
  number: number;
  bench: string;
  startedAt: string;
  sweeps: number;
  entries: number;
  signatures: number;
  origin: string;
  simulated: boolean;
  inBin: boolean;
}

/** Every job of the store, oldest first. */
export function keptJobs(db: Database): KeptJob[] {
  return db
    .all(
      `SELECT key, number, bench, started_at, sweeps, entries, signatures, origin, is_simulated,
         binned_at FROM job ORDER BY id`,
    )
    .map((row) => ({
      key: String(row.key),
      number: Number(row.number),
      bench: String(row.bench),
      startedAt: String(row.started_at),
      sweeps: Number(row.sweeps),
      entries: Number(row.entries),
      signatures: Number(row.signatures),
      origin: String(row.origin),
      simulated: row.is_simulated === 1,
      inBin: row.binned_at !== null,
    }));
}

/**
 * The job that a number or a key names. A number means the bench's own job; one that came from elsewhere is
 * meant where there is no own one of that number and only one.
 * @throws RecordingRefused.
 */
export function findJob(db: Database, named: string): KeptJob {
  const jobs = keptJobs(db);
  const byKey = jobs.find(({ key }) => key === named);
  if (byKey) return byKey;
  const numbered = /^\d{1,9}$/.test(named)
    ? jobs.filter(({ number }) => number === Number(named))
    : [];
  const own = numbered.filter(({ origin }) => origin === MEASURED_HERE);
  const meant = own.length > 0 ? own : numbered;
  if (meant.length === 1) return meant[0]!;
  const got =
    meant.length === 0
      ? `job ${named.slice(0, 80)}`
      : `job ${named} is the number of ${meant.length}: ${meant.map(({ key }) => key).join(', ')}`;
  throw new RecordingRefused(null, jobNotKept(got));
}
