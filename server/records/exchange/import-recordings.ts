import type { ImportedRecording as Imported } from '@taptrue/protocol';
import { appendAll, MEASURED_HERE } from '../store/append.ts';
import type { Database } from '../store/database.ts';
import type { RecordBatch } from '../store/record-batch.ts';
import { MOST_PIECES_AT_ONCE, PieceMaker } from './batches-of-lines.ts';
import { checkLine } from './check-line.ts';
import { type CheckedRecording, checkRecordings } from './check-recordings.ts';
import { linesOfFile } from './lines-of-file.ts';
import { otherJobHere, RecordingRefused } from './recording-faults.ts';
import type { Fingerprint } from './recording-hash.ts';
import { fingerprintOf } from './stored-recording.ts';

/** Marks a job in the list as one that was not measured here. */
export const IMPORTED = 'a recording';

interface Here extends Fingerprint {
  origin: string;
  lastSeq: number;
}

/**
 * Takes the recordings of a file into a store. Each is checked whole before anything of it is kept; one that is
 * refused does not stop the others. The file is read twice and never held in memory.
 */
export function importRecordings(db: Database, path: string): Imported[] {
  let here: Here | null = null;
  const hooks = {
    onJob: ({ job }: { job: string }) => {
      here = jobHere(db, job);
      return here?.lines ?? null;
    },
  };
  const done: Imported[] = [];
  for (const checked of checkRecordings(linesOfFile(path), hooks)) {
    done.push(takeIn(db, path, checked, here));
    here = null;
  }
  return done;
}

function jobHere(db: Database, job: string): Here | null {
  const row = db.get('SELECT id, origin FROM job WHERE key = ?', job);
  const fingerprint = row && fingerprintOf(db, job);
  if (!row || !fingerprint) return null;
  const last = db.get('SELECT max(seq) AS seq FROM chunk WHERE job_id = ?', Number(row.id));
  return { ...fingerprint, origin: String(row.origin), lastSeq: Number(last?.seq ?? 0) };
}

function takeIn(
  db: Database,
  path: string,
  checked: CheckedRecording,
  here: Here | null,
): Imported {
  const { header, opened, fingerprint, refused, recomputation } = checked;
  const told = {
    job: header?.job ?? null,
    number: opened?.start.job ?? null,
    bench: header?.bench ?? null,
    entries: Math.max(0, fingerprint.lines - 1),
    differences: recomputation?.different ?? 0,
  };
  if (refused || !header)
    return {
      ...told,
      outcome: 'refused',
      line: refused?.line ?? null,
      fault: refused?.fault ?? null,
    };
  if (here === null) {
    keep(db, path, checked, 0, 0);
    return { ...told, outcome: 'taken in', line: null, fault: null };
  }
  if (fingerprint.sha256 === here.sha256 || beginsTheSame(db, header.job, fingerprint))
    return { ...told, outcome: 'here already', line: null, fault: null };
  // What was taken in before may have been given out before the job was over.
  if (checked.sha256There === here.sha256 && here.origin !== MEASURED_HERE) {
    keep(db, path, checked, here.lines - 1, here.lastSeq);
    return { ...told, outcome: 'gone on with', line: null, fault: null };
  }
  const { line, fault } = new RecordingRefused(
    checked.from.number,
    otherJobHere(here.sha256, fingerprint.sha256),
  );
  return { ...told, outcome: 'refused', line, fault };
}

/** The file holds the beginning of what is kept here. */
function beginsTheSame(db: Database, job: string, file: Fingerprint): boolean {
  return fingerprintOf(db, job, file.lines)?.sha256 === file.sha256;
}

/** Keeps the entries of a checked recording, those behind the first `skip`. */
function keep(
  db: Database,
  path: string,
  { header, from, fingerprint }: CheckedRecording,
  skip: number,
  lastSeq: number,
): void {
  const maker = new PieceMaker(header!.job, lastSeq);
  let waiting: RecordBatch[] = [];
  const commit = (piece: RecordBatch | null, most: number) => {
    if (piece) waiting.push({ ...piece, origin: IMPORTED });
    if (waiting.length < most) return;
    appendAll(db, waiting);
    waiting = [];
  };
  const last = from.number + fingerprint.lines;
  for (const line of linesOfFile(path, from)) {
    if (line.number >= last) break;
    if (line.number <= from.number + skip) continue;
    const checked = checkLine(line);
    if (checked.kind !== 'entry') break;
    commit(maker.add(line.bytes.toString('utf8'), checked.entry), MOST_PIECES_AT_ONCE);
  }
  commit(maker.rest(), 1);
}
