import type { JobCard, RecordEntry, RecordEntryOf } from '@taptrue/protocol';
import type { Database } from './database.ts';

/** Sentences of sweeps that are searched: the last ones of a job say how it ended, the first hundred say the same. */
const MOST_SENTENCES = 50;

/** As it is compared: what differs only in letters or blanks is the same name. */
export function searchedBy(text: string): string {
  return text.trim().replace(/\s+/g, ' ').toLowerCase();
}

export function cardOf(db: Database, jobId: number): JobCard {
  const row = db.get('SELECT card FROM job WHERE id = ?', jobId);
  return JSON.parse(String(row?.card)) as JobCard;
}

/** Notes and tags as they stand by this entry; a note that is struck out stays. */
export function indexWriting(
  db: Database,
  jobId: number,
  entry: RecordEntryOf<'note' | 'note struck out' | 'tagged'>,
): void {
  switch (entry.entry) {
    case 'note':
      db.run(
        `INSERT OR REPLACE INTO note (job_id, number, sweep, written_at, written_by, text)
         VALUES (?, ?, ?, ?, ?, ?)`,
        jobId,
        entry.number,
        entry.sweep,
        entry.wallClock,
        entry.by,
        entry.text,
      );
      return;
    case 'note struck out':
      db.run(
        `UPDATE note SET struck_at = ?, struck_by = ?, struck_why = ?
         WHERE job_id = ? AND number = ?`,
        entry.wallClock,
        entry.by,
        entry.why,
        jobId,
        entry.number,
      );
      return;
    case 'tagged':
      if (entry.on)
        db.run('INSERT OR IGNORE INTO tag (job_id, tag) VALUES (?, ?)', jobId, entry.tag);
      else db.run('DELETE FROM tag WHERE job_id = ? AND tag = ?', jobId, entry.tag);
  }
}

/** True where the job's searched words are others after this entry. */
export function saysWords(said: RecordEntry): boolean {
  const { entry } = said;
  if (said.entry === 'command') return said.command.kind === 'change card' && said.answer.ok;
  return (
    entry === 'opened' ||
    entry === 'sweep ended' ||
    entry === 'note' ||
    entry === 'note struck out' ||
    entry === 'tagged'
  );
}

/** What is searched for text: the card, notes and tags of the job, and what its sweeps said. */
export function tellWords(db: Database, jobId: number): void {
  const texts = (sql: string) => db.all(sql, jobId).map(({ text }) => String(text));
  const words = [
    ...Object.values(cardOf(db, jobId)),
    ...texts('SELECT tag AS text FROM tag WHERE job_id = ?'),
    ...texts('SELECT text FROM note WHERE job_id = ? AND struck_at IS NULL'),
    ...texts(
      `SELECT sentence AS text FROM sweep WHERE job_id = ? ORDER BY number DESC LIMIT ${MOST_SENTENCES}`,
    ),
  ].filter((word) => word !== '');
  db.run('DELETE FROM job_text WHERE rowid = ?', jobId);
  db.run('INSERT INTO job_text (rowid, words) VALUES (?, ?)', jobId, words.join('\n'));
}
