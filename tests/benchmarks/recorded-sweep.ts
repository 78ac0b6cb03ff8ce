import type { RecordEntry } from '@taptrue/protocol';
import { append } from '@taptrue/server/records/store/append.ts';
import { openStore } from '@taptrue/server/records/store/open-store.ts';
import type { RecordBatch } from '@taptrue/server/records/store/record-batch.ts';
import { sweptBytes } from './swept-bytes.ts';
import { WholeWay } from './whole-way.ts';

/** As the running record cuts its pieces. */
const PIECE_EVERY_MS = 200;
const GULP_EVERY_MS = 10;

export interface RecordedSweep {
  /** Key of the job. */
  job: string;
  entries: number;
  readings: number;
}

/**
 * A store with one job: a streamed sweep that goes on and on, by the same bench and in the same pieces as the
 * service writes it, only not in real time and without waiting for the disk.
 */
export function recordSweep(path: string, readings: number, perSecond: number): RecordedSweep {
  const timers = { setTimeout, clearTimeout };
  const db = openStore(path);
  db.exec('PRAGMA synchronous = OFF');
  let held: RecordEntry[] = [];
  let job = '';
  let seq = 0;
  let entries = 0;
  const way = new WholeWay((entry) => {
    if (entry.entry === 'opened') job = entry.start.key;
    held.push(entry);
  });
  const write = () => {
    if (held.length === 0) return;
    seq += 1;
    append(db, pieceOf(job, seq, held));
    entries += held.length;
    held = [];
  };
  let writtenAtMs = 0;
  for (const gulp of sweptBytes(readings, perSecond, GULP_EVERY_MS).gulps) {
    way.push(gulp);
    if (gulp.atMs - writtenAtMs < PIECE_EVERY_MS) continue;
    writtenAtMs = gulp.atMs;
    write();
  }
  write();
  way.close();
  // Otherwise the next service would take this job up, and tell all of it to its bench first.
  db.run('UPDATE job SET is_open = 0');
  db.close();
  Object.assign(globalThis, timers);
  return { job, entries, readings: way.readings };
}

function pieceOf(job: string, seq: number, held: readonly RecordEntry[]): RecordBatch {
  const shown = held.flatMap((entry) =>
    entry.entry === 'reading' && entry.link === 'indicator' && entry.reading.valueMm !== null
      ? [entry.reading.valueMm]
      : [],
  );
  return {
    job,
    seq,
    lines: `${held.map((entry) => JSON.stringify(entry)).join('\n')}\n`,
    entries: held.length,
    readings: held.filter(({ entry }) => entry === 'reading').length,
    firstAtMs: held[0]!.atMs,
    lastAtMs: held.at(-1)!.atMs,
    lowMm: shown.length === 0 ? null : Math.min(...shown),
    highMm: shown.length === 0 ? null : Math.max(...shown),
  };
}
