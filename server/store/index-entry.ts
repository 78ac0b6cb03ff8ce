import type { DrawnPoint, JobCard, RecordEntry, RecordEntryOf } from '@taptrue/protocol';
import { emptyCard } from '@taptrue/protocol';
import type { Database } from './database.ts';

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
  return Number.isFinite(epochMs) ? new Date(epochMs).toISOString() : String(row?.clock_at);
}

export function cardOf(db: Database, jobId: number): JobCard {
  const row = db.get('SELECT card FROM job WHERE id = ?', jobId);
  return { ...emptyCard(), ...(JSON.parse(String(row?.card ?? '{}')) as Partial<JobCard>) };
}

function setCard(db: Database, jobId: number, card: JobCard): void {
  db.run('UPDATE job SET card = ? WHERE id = ?', JSON.stringify(card), jobId);
  tellWords(db, jobId);
}

/** What is searched for text, in small letters: the card, notes and tags of the job; its sweeps carry it too. */
export function tellWords(db: Database, jobId: number): void {
  const tags = db.all('SELECT tag FROM tag WHERE job_id = ?', jobId).map(({ tag }) => tag);
  const notes = db
    .all('SELECT text FROM note WHERE job_id = ? AND is_struck = 0', jobId)
    .map(({ text }) => text);
  const words = [...Object.values(cardOf(db, jobId)), ...tags, ...notes]
    .filter((word) => word !== '')
    .join('\n')
    .toLowerCase();
  db.run('UPDATE job SET words = ? WHERE id = ?', words, jobId);
}

function addSweep(db: Database, jobId: number, entry: RecordEntryOf<'sweep ended'>): void {
  const { result } = entry;
  const endedAt = timeOfDay(db, jobId, entry.atMs);
  db.run(
    `INSERT OR REPLACE INTO sweep
       (job_id, number, ended_at, from_ms, to_ms, stage, is_simulated, verdict, out_of_true_arcsec,
        uncertainty_arcsec, sentence, points, samples)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
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
    result?.sentence ?? '',
    JSON.stringify(smallPicture(entry.points)),
    entry.samples,
  );
  db.run(
    'UPDATE job SET last_at = ?, sweeps = (SELECT count(*) FROM sweep WHERE job_id = ?) WHERE id = ?',
    endedAt,
    jobId,
    jobId,
  );
}

/** Few points, first and last among them: [x in mm, reading in mm]. */
export function smallPicture(points: readonly DrawnPoint[]): [number, number][] {
  const step = Math.max(1, (points.length - 1) / (SMALL_PICTURE_POINTS - 1));
  const small: [number, number][] = [];
  for (
    let at = 0;
    Math.round(at) < points.length && small.length < SMALL_PICTURE_POINTS;
    at += step
  ) {
    const { xMm, readingMm } = points[Math.round(at)]!;
    small.push([Number(xMm.toFixed(3)), Number(readingMm.toFixed(6))]);
  }
  return small;
}
