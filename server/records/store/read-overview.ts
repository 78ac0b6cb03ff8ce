import {
  isUsable,
  MOST_OVERVIEW_COLUMNS,
  type RecordEntry,
  type RecordMark,
  type RecordOverview,
} from '@taptrue/protocol';
import { idOf } from './append.ts';
import type { Database } from './database.ts';
import { type ChunkHead, chunkHeads, chunkLines } from './read-record.ts';

/** Pieces are opened to draw every reading up to this many of them: some 100 ms of reading. Beyond, a piece is drawn from its low to its high. */
export const MOST_DRAWN_EACH = 20_000;
/** Marks sent to a screen; its time scale has no room for more. */
export const MOST_MARKS = 2000;

export interface OverviewAsk {
  job: string;
  /** By the record's clock; null: from its beginning, to its end. */
  fromMs: number | null;
  toMs: number | null;
  columns: number;
}

/** The needle of a job over a time, in columns of low and high; null where there is no such job. */
export function overview(db: Database, ask: OverviewAsk): RecordOverview | null {
  const heads = chunkHeads(db, ask.job);
  const first = heads[0];
  if (!first) return null;
  const beginsMs = first.firstAtMs;
  const endsMs = Math.max(beginsMs, ...lastTimes(heads));
  const fromMs = ask.fromMs ?? beginsMs;
  const toMs = Math.max(fromMs, ask.toMs ?? endsMs);
  const within = heads.filter(({ firstAtMs, lastAtMs }) => lastAtMs >= fromMs && firstAtMs <= toMs);
  const readings = within.reduce((sum, head) => sum + head.readings, 0);
  const count = Math.max(1, Math.min(MOST_OVERVIEW_COLUMNS, Math.floor(ask.columns)));
  const columns = new Columns(fromMs, toMs, count);
  for (const head of within) {
    if (readings > MOST_DRAWN_EACH || !drawEach(db, ask.job, head, columns)) {
      if (head.lowMm !== null && head.highMm !== null)
        columns.put(head.firstAtMs, head.lastAtMs, head.lowMm, head.highMm);
    }
  }
  const marks = marksOf(db, ask.job);
  return {
    beginsMs,
    endsMs,
    fromMs,
    toMs,
    readings,
    columns: columns.list,
    marks: marks.slice(0, MOST_MARKS),
    marksLeftOut: Math.max(0, marks.length - MOST_MARKS),
  };
}

/** Moments worth stepping to, oldest first. */
export function marksOf(db: Database, job: string): RecordMark[] {
  const jobId = idOf(db, job);
  if (jobId === null) return [];
  return db
    .all('SELECT kind, at_ms, text FROM mark WHERE job_id = ? ORDER BY at_ms, rowid', jobId)
    .map(({ kind, at_ms, text }) => ({
      kind: kind as RecordMark['kind'],
      atMs: Number(at_ms),
      text: String(text),
    }));
}

class Columns {
  readonly list: ({ lowMm: number; highMm: number } | null)[];
  readonly fromMs: number;
  readonly toMs: number;
  readonly #perMs: number;

  constructor(fromMs: number, toMs: number, count: number) {
    this.list = new Array(count).fill(null);
    this.fromMs = fromMs;
    this.toMs = toMs;
    this.#perMs = toMs > fromMs ? count / (toMs - fromMs) : 0;
  }

  put(firstMs: number, lastMs: number, lowMm: number, highMm: number): void {
    const last = this.#at(lastMs);
    for (let column = this.#at(firstMs); column <= last; column += 1) {
      const there = this.list[column];
      this.list[column] = there
        ? { lowMm: Math.min(there.lowMm, lowMm), highMm: Math.max(there.highMm, highMm) }
        : { lowMm, highMm };
    }
  }

  #at(atMs: number): number {
    const column = Math.floor((atMs - this.fromMs) * this.#perMs);
    return Math.max(0, Math.min(this.list.length - 1, column));
  }
}

/** False where the piece is damaged: then its low and high, which lie beside it, are what is left. */
function drawEach(db: Database, job: string, head: ChunkHead, columns: Columns): boolean {
  try {
    for (const line of chunkLines(db, { job, seq: head.seq }).split('\n')) {
      if (!line.startsWith('{"entry":"reading"')) continue;
      const entry = JSON.parse(line) as RecordEntry;
      if (entry.entry !== 'reading' || entry.link !== 'indicator' || !isUsable(entry.reading))
        continue;
      const { valueMm } = entry.reading;
      if (entry.atMs < columns.fromMs || entry.atMs > columns.toMs) continue;
      columns.put(entry.atMs, entry.atMs, valueMm, valueMm);
    }
    return true;
  } catch {
    return false;
  }
}

/** Not spread over the stack at once: a day's record has a hundred thousand pieces. */
function lastTimes(heads: readonly ChunkHead[]): number[] {
  return heads.slice(-100).map(({ lastAtMs }) => lastAtMs);
}
