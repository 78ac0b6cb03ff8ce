import type { Database } from '../store/database.ts';
import { chunkHeads, chunkLines } from '../store/read-record.ts';
import type { FileLine } from './lines-of-file.ts';
import { type Fingerprint, RecordingHash } from './recording-hash.ts';
import { RecordingWriter } from './recording-writer.ts';

/** Pieces of a kept job, oldest first, as text. In memory one at a time. */
export function* piecesOf(db: Database, key: string): Generator<string> {
  for (const { seq } of chunkHeads(db, key)) yield chunkLines(db, { job: key, seq });
}

/** A kept job as a recording, piece by piece. Nothing comes where there is no such job. */
export function* storedRecording(
  db: Database,
  key: string,
  throughSweep: number | null = null,
): Generator<string, RecordingWriter> {
  const writer = new RecordingWriter(throughSweep);
  for (const piece of piecesOf(db, key)) {
    const text = writer.push(piece);
    if (text !== '') yield text;
    if (writer.isOver) break;
  }
  const end = writer.end();
  if (end !== '') yield end;
  return writer;
}

/** The lines of a kept job's recording, as if they came out of a file. */
export function* storedLines(db: Database, key: string): Generator<FileLine> {
  let number = 0;
  let at = 0;
  for (const piece of storedRecording(db, key)) {
    for (const line of piece.split('\n').slice(0, -1)) {
      number += 1;
      const bytes = Buffer.from(line, 'utf8');
      yield { bytes, number, at, hasEnd: true };
      at += bytes.length + 1;
    }
  }
}

/**
 * The fingerprint over a kept job's lines, all of them or the first so many, the header counted; null: there is
 * no such job, or it has fewer.
 */
export function fingerprintOf(
  db: Database,
  key: string,
  lines: number | null = null,
): Fingerprint | null {
  if (lines === null) {
    const writer = new RecordingWriter();
    for (const piece of piecesOf(db, key)) writer.push(piece);
    return writer.fingerprint.lines === 0 ? null : writer.fingerprint;
  }
  const hash = new RecordingHash();
  for (const { bytes } of storedLines(db, key)) {
    if (hash.lines === lines) break;
    hash.line(bytes);
  }
  return hash.lines === lines ? hash.fingerprint : null;
}
