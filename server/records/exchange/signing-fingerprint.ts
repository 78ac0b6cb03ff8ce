import { type RecordEntry, recordingHeader } from '@taptrue/protocol';
import type { Database } from '../store/database.ts';
import { type Fingerprint, RecordingHash } from './recording-hash.ts';
import { piecesOf } from './stored-recording.ts';

const SIGNING = '{"entry":"signing"';

/**
 * The fingerprint over a kept job's lines up to the last `signing`, that line and the recording's header
 * included; null where nobody signs.
 */
export function signingFingerprint(db: Database, key: string): Fingerprint | null {
  const hash = new RecordingHash();
  let found: Fingerprint | null = null;
  for (const piece of piecesOf(db, key)) {
    if (hash.lines === 0) {
      const first = JSON.parse(piece.slice(0, piece.indexOf('\n'))) as RecordEntry;
      if (first.entry !== 'opened') return null;
      hash.line(JSON.stringify(recordingHeader(first)));
    }
    const lines = piece.split('\n').slice(0, -1);
    // Most pieces are readings only: hashed at once.
    if (!piece.includes(SIGNING)) {
      hash.text(piece, lines.length);
      continue;
    }
    for (const line of lines) {
      hash.line(line);
      if (line.startsWith(SIGNING)) found = hash.fingerprint;
    }
  }
  return found;
}
