import { deflateSync } from 'node:zlib';
import type { DrawnPoint, JobCard, RecordEntry, RecordEntryOf } from '@taptrue/protocol';
import { isoOf } from '../../files/iso-time.ts';
import type { Database } from './database.ts';
import { cardOf, indexWriting, searchedBy } from './index-words.ts';

/** Points of the small picture of a sweep in the list. */
const SMALL_PICTURE_POINTS = 24;

/** Keeps the tables that are searched by in step with one entry of a job's record. Readings are not searched by. */
export function indexEntry(db: Database, jobId: number, entry: RecordEntry): void {
  switch (entry.entry) {
    case 'opened':
      setClock(db, jobId, entry);
      setCard(db, jobId, entry.start.card);
      return;
    case 'resumed':
      setClock(db, jobId, entry);
      db.run('UPDATE job SET is_open = 1 WHERE id = ?', jobId);
      return;
    case 'closed':
      db.run('UPDATE job SET is_open = 0, last_at = ? WHERE id = ?', entry.wallClock, jobId);
      return;
    case 'stopped':
      db.run('UPDATE job SET last_at = ? WHERE id = ?', entry.wallClock, jobId);
      return;
    case 'command':
      if (entry.command.kind === 'change card' && entry.answer.ok)
        setCard(db, jobId, { ...cardOf(db, jobId), ...entry.command.change });
      return;
    case 'sweep ended':
      addSweep(db, jobId, entry);
      return;
    case 'signed':
      db.run('UPDATE job SET signatures = signatures + 1 WHERE id = ?', jobId);
      return;
    case 'tap step':
      addTap(db, jobId, entry);
      return;
    case 'between sweeps':
      addTurn(db, jobId, entry);
      return;
    case 'note':
    case 'note struck out':
    case 'tagged':
      indexWriting(db, jobId, entry);
      return;
    default:
      return;
  }
}

/** The time of day of a job's entries follows from its last `opened` or `resumed`. */
function setClock(db: Database, jobId: number, at: { atMs: number; wallClock: string }): void {
  db.run(
    'UPDATE job SET clock_at_ms = ?, clock_at = ?, last_at = ? WHERE id = ?',
    at.atMs,
    at.wallClock,
    at.wallClock,
    jobId,
  );
}

function timeOfDay(db: Database, jobId: number, atMs: number): string {
  const row = db.get('SELECT clock_at_ms, clock_at FROM job WHERE id = ?', jobId);
  const epochMs = Date.parse(String(row?.clock_at)) + atMs - Number(row?.clock_at_ms);
  // A record from elsewhere may say a time that is none.
  return isoOf(epochMs) ?? String(row?.clock_at);
}

function setCard(db: Database, jobId: number, card: JobCard): void {
  db.run(
    'UPDATE job SET card = ?, job_number = ?, machine = ?, operator = ? WHERE id = ?',
    JSON.stringify(card),
    searchedBy(card.jobNumber),
    searchedBy(card.machine),
    searchedBy(card.operator),
    jobId,
  );
}

function addSweep(db: Database, jobId: number, entry: RecordEntryOf<'sweep ended'>): void {
  const { result } = entry;
  const endedAt = timeOfDay(db, jobId, entry.atMs);
  db.run(
    `INSERT OR REPLACE INTO sweep
       (job_id, number, ended_at, from_ms, to_ms, stage, is_simulated, verdict, out_of_true_arcsec,
        uncertainty_arcsec, expanded_arcsec, end_to_end_mm, sentence, points, samples, body)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    jobId,
    entry.sweep,
    endedAt,
    entry.begunAtMs,
    entry.atMs,
    entry.stage,
    entry.simulated ? 1 : 0,
    result?.verdict ?? null,
    result?.outOfTrueArcsec ?? null,
    result?.angleStandardUncertaintyArcsec ?? null,
    result?.outOfTrueArcsecExpanded ?? null,
    result?.endToEndMm ?? null,
    result?.sentence ?? '',
    JSON.stringify(smallPicture(entry.points, entry.surfacePerReading)),
    entry.samples,
    deflateSync(JSON.stringify(entry)),
  );
  db.run(
    `UPDATE job SET last_at = ?2, sweeps = (SELECT count(*) FROM sweep WHERE job_id = ?1),
       verdict = (SELECT verdict FROM sweep WHERE job_id = ?1 AND out_of_true_arcsec IS NOT NULL
                  ORDER BY number DESC LIMIT 1)
     WHERE id = ?1`,
    jobId,
    endedAt,
  );
}

function addTap(db: Database, jobId: number, entry: RecordEntryOf<'tap step'>): void {
  db.run(
    `INSERT INTO tap (job_id, number, sweep, step)
     VALUES (?1, (SELECT coalesce(max(number), 0) + 1 FROM tap WHERE job_id = ?1), ?2, ?3)`,
    jobId,
    entry.sweep,
    JSON.stringify(entry.step),
  );
}

function addTurn(db: Database, jobId: number, entry: RecordEntryOf<'between sweeps'>): void {
  db.run(
    `INSERT OR REPLACE INTO turn
       (job_id, after, before, stage_before, stage_after, turned_arcsec, tapped, clamp_changes,
        zero_moved, pivot_mm, pivot_u_mm)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    jobId,
    entry.after,
    entry.before,
    entry.stageBefore,
    entry.stageAfter,
    entry.turnedArcsec,
    entry.tapped,
    entry.clampChanges,
    entry.zeroMoved,
    entry.pivot?.fromLeftClampMm ?? null,
    entry.pivot?.uncertaintyMm ?? null,
  );
}

/** Few points, first and last among them: x and height of the surface, both in mm. */
export function smallPicture(
  points: readonly DrawnPoint[],
  surfacePerReading: number,
): [number, number][] {
  const step = Math.max(1, (points.length - 1) / (SMALL_PICTURE_POINTS - 1));
  const small: [number, number][] = [];
  for (
    let at = 0;
    Math.round(at) < points.length && small.length < SMALL_PICTURE_POINTS;
    at += step
  ) {
    const { xMm, readingMm } = points[Math.round(at)]!;
    small.push([Number(xMm.toFixed(3)), Number((surfacePerReading * readingMm).toFixed(6))]);
  }
  return small;
}
