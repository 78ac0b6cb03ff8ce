import { inflateSync } from 'node:zlib';
import type {
  DrawnPoint,
  NoteRow,
  RecordEntryOf,
  SweepDetail,
  SweepResult,
  TapStep,
  TurnRow,
} from '@taptrue/protocol';
import type { Database, Row } from './database.ts';
import { JOB_COLUMNS, type KeptJob, keptJobOf, SWEEP_COLUMNS, sweepRowOf } from './find-jobs.ts';

/** Sweeps of a job told with all their points, some 500 kB; older ones are counted. */
export const MOST_SWEEPS_TOLD = 60;

export interface KeptDetail extends KeptJob {
  all: SweepDetail[];
  leftOut: number;
  notesOf: NoteRow[];
}

/** A kept job with its sweeps, taps, notes and tags; null: there is none. In the bin it can still be read. */
export function jobDetail(db: Database, key: string): KeptDetail | null {
  const row = db.get(`SELECT ${JOB_COLUMNS} FROM job WHERE key = ?`, key);
  if (!row) return null;
  const jobId = Number(row.id);
  const job = keptJobOf(db, row);
  const all = db
    .all(
      `SELECT ${SWEEP_COLUMNS}, body FROM sweep WHERE job_id = ? ORDER BY number DESC LIMIT ${MOST_SWEEPS_TOLD}`,
      jobId,
    )
    .map((sweep) => detailOf(db, jobId, sweep));
  return {
    ...job,
    all,
    leftOut: job.sweeps - all.length,
    notesOf: db.all('SELECT * FROM note WHERE job_id = ? ORDER BY number', jobId).map(noteOf),
  };
}

/** A sweep as it was kept when it ended. */
export interface KeptSweep {
  job: string;
  jobNumber: number;
  title: string;
  ended: RecordEntryOf<'sweep ended'>;
  endedAt: string;
}

export interface SweepName {
  job: string;
  number: number;
}

/** The sweeps of these names with their points; those that are not kept are left out. */
export function keptSweeps(db: Database, names: readonly SweepName[]): KeptSweep[] {
  return names.flatMap(({ job, number }) => {
    const row = db.get(
      `SELECT job.number AS job_number, job.job_number AS own, sweep.ended_at, sweep.body
       FROM job JOIN sweep ON sweep.job_id = job.id WHERE job.key = ? AND sweep.number = ?`,
      job,
      number,
    );
    if (!row) return [];
    const jobNumber = Number(row.job_number);
    const ended = endedOf(row.body);
    return [{ job, jobNumber, title: '', ended, endedAt: String(row.ended_at) }];
  });
}

/** What lay between the sweeps of a job, oldest first. */
export function turnsOf(db: Database, key: string): TurnRow[] {
  return db
    .all('SELECT * FROM turn WHERE job_id = (SELECT id FROM job WHERE key = ?) ORDER BY after', key)
    .map(turnOf);
}

function detailOf(db: Database, jobId: number, row: Row): SweepDetail {
  const { points, surfacePerReading, result } = endedOf(row.body);
  const number = Number(row.number);
  const turn = db.get('SELECT * FROM turn WHERE job_id = ? AND after = ?', jobId, number);
  return {
    ...sweepRowOf(row),
    points: points as DrawnPoint[],
    surfacePerReading,
    result: result as SweepResult | null,
    taps: db
      .all('SELECT step FROM tap WHERE job_id = ? AND sweep = ? ORDER BY number', jobId, number)
      .map(({ step }) => JSON.parse(String(step)) as TapStep),
    turn: turn ? turnOf(turn) : null,
  };
}

/** A sweep's end as it was kept. */
export function endedOf(body: unknown): RecordEntryOf<'sweep ended'> {
  const text = inflateSync(Buffer.from(body as ArrayBuffer)).toString('utf8');
  return JSON.parse(text) as RecordEntryOf<'sweep ended'>;
}

function noteOf(row: Row): NoteRow {
  return {
    number: Number(row.number),
    sweep: row.sweep === null ? null : Number(row.sweep),
    writtenAt: String(row.written_at),
    by: String(row.written_by),
    text: String(row.text),
    struck:
      row.struck_at === null
        ? null
        : { at: String(row.struck_at), by: String(row.struck_by), why: String(row.struck_why) },
  };
}

export function turnOf(row: Row): TurnRow {
  return {
    before: Number(row.before),
    after: Number(row.after),
    stageBefore: row.stage_before as TurnRow['stageBefore'],
    stageAfter: row.stage_after as TurnRow['stageAfter'],
    turnedArcsec: Number(row.turned_arcsec),
    tapped: row.tapped as TurnRow['tapped'],
    clampChanges: Number(row.clamp_changes),
    zeroMoved: row.zero_moved === null ? null : String(row.zero_moved),
    pivotFromLeftClampMm: row.pivot_mm === null ? null : Number(row.pivot_mm),
    pivotUncertaintyMm: row.pivot_u_mm === null ? null : Number(row.pivot_u_mm),
  };
}

/** What a note must fit to: sweeps of the job, its last note's number, notes that are not struck out. */
export function noteFacts(
  db: Database,
  key: string,
): { sweeps: number[]; lastNote: number; standing: number[] } | null {
  const job = db.get('SELECT id FROM job WHERE key = ?', key);
  if (!job) return null;
  const numbers = (sql: string) => db.all(sql, Number(job.id)).map(({ number }) => Number(number));
  return {
    sweeps: numbers('SELECT number FROM sweep WHERE job_id = ?'),
    lastNote: Math.max(0, ...numbers('SELECT max(number) AS number FROM note WHERE job_id = ?')),
    standing: numbers('SELECT number FROM note WHERE job_id = ? AND struck_at IS NULL'),
  };
}
