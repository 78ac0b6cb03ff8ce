import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { RecordEntry } from '@taptrue/protocol';
import { PieceMaker } from '@taptrue/server/records/exchange/batches-of-lines.ts';
import { storedRecording } from '@taptrue/server/records/exchange/stored-recording.ts';
import { appendAll } from '@taptrue/server/records/store/append.ts';
import type { Database } from '@taptrue/server/records/store/database.ts';
import { openStore, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { onTestFinished } from 'vitest';
import { AtTheBench } from '../../bench/at-the-bench.ts';

/** A folder of its own for one test. */
export function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'taptrue-recording-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export function newStore(folder = newFolder()): Database {
  const db = openStore(join(folder, STORE_FILE));
  onTestFinished(() => db.close());
  return db;
}

/** Two sweeps with a tap between, keyed in at the bench: what the record of a short job holds. */
export function shortJob(): { key: string; entries: RecordEntry[] } {
  const at = new AtTheBench({ rises: 'toward', stationsMm: [0, 63.5, 127] });
  at.must({ kind: 'change card', change: { jobNumber: 'J-7 "übel" 铣', operator: 'Ann' } });
  at.sweepKeyed(['0', '0.0020', '0.0041']);
  at.must({ kind: 'park', xMm: 127, keyed: '0.0041' });
  at.must({ kind: 'tap reading', keyed: '0.0002' });
  at.must({ kind: 'leave tap' });
  at.recorded.push({
    entry: 'unread',
    atMs: at.recorded.at(-1)!.atMs,
    link: 'readout',
    text: 'X= --.----',
    leftOut: 3,
  });
  at.must({ kind: 'set stage', stage: 'tight' });
  at.sweepKeyed(['0', '0.0000', '0.0001']);
  return { key: at.bench.jobKey, entries: at.recorded };
}

/** Keeps entries as a job of the store. */
export function keepIn(db: Database, key: string, entries: readonly RecordEntry[]): void {
  const maker = new PieceMaker(key, 0);
  for (const entry of entries) {
    const piece = maker.add(JSON.stringify(entry), entry);
    if (piece) appendAll(db, [piece]);
  }
  const rest = maker.rest();
  if (rest) appendAll(db, [rest]);
}

/** The job as a file would hold it. */
export function recordingOf(db: Database, key: string): string {
  return [...storedRecording(db, key)].join('');
}
