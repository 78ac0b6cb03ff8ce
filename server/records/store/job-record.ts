import { isUsable, type RecordEntry } from '@taptrue/protocol';
import type { RecordBatch } from './record-batch.ts';

/** Streamed readings are on disk within this time; keyed ones before they are acknowledged (`flush`). */
export const WRITE_EVERY_MS = 200;
/** Entries held in memory while the disk does not answer: 100 s of 1,000 readings a second. */
export const MOST_HELD_ENTRIES = 100_000;
/** A disk that refused is tried again this often: soon after room was made, without filling a log. */
export const RETRY_AFTER_MS = 1000;
/** Entries in one commit: some 1.5 MB of text, written in a few milliseconds. */
export const MOST_IN_BATCH = 5000;

export interface JobRecordOptions {
  /** Key of the job. */
  job: string;
  /** Batches of this job that are kept already. */
  lastSeq?: number;
  /** The edge to the disk: resolves when the batch is on it, rejects where the disk refused. */
  append(batch: RecordBatch): Promise<void>;
  /** The disk refused, or (null) takes again what was held. */
  onTrouble(error: unknown): void;
}

interface Held {
  line: string;
  atMs: number;
  /** What the indicator showed, mm; null: not a usable reading of it. */
  shownMm: number | null;
  isReading: boolean;
}

/**
 * The only writer of a job's record. Adding never waits for the disk; `flush` resolves when everything added
 * before it is on disk. Where the disk fails, measuring goes on, the entries are held up to a limit, the same
 * batch is tried again, and the trouble stands until it succeeds.
 */
export class JobRecord {
  readonly job: string;
  readonly #options: JobRecordOptions;
  #held: Held[] = [];
  /** The batch on its way: kept as it is until the disk has it, so that no entry is kept twice. */
  #sending: RecordBatch | null = null;
  #seq: number;
  #dropped = 0;
  #writing: Promise<boolean> | null = null;
  #timer: NodeJS.Timeout | null = null;
  #closed = false;
  #failing = false;

  constructor(options: JobRecordOptions) {
    this.job = options.job;
    this.#options = options;
    this.#seq = options.lastSeq ?? 0;
  }

  /** Entries lost because the disk failed for longer than the memory or the service lasted. */
  get dropped(): number {
    return this.#dropped;
  }

  /** Entries that are not on disk yet. */
  get pending(): number {
    return this.#held.length + (this.#sending?.entries ?? 0);
  }

  add(entry: RecordEntry): void {
    if (this.#closed) return;
    if (this.#held.length >= MOST_HELD_ENTRIES) this.#dropOne();
    const isReading = entry.entry === 'reading';
    const ofIndicator = isReading && entry.link === 'indicator' && isUsable(entry.reading);
    this.#held.push({
      line: JSON.stringify(entry),
      atMs: entry.atMs,
      shownMm: ofIndicator ? entry.reading.valueMm : null,
      isReading,
    });
    this.#writeIn(this.#failing ? RETRY_AFTER_MS : WRITE_EVERY_MS);
  }

  /** True once all that was added is on disk; false where the disk refused (the trouble stands). */
  async flush(): Promise<boolean> {
    while (this.#writing) await this.#writing;
    if (this.#held.length === 0 && !this.#sending) return true;
    this.#writing = this.#write();
    try {
      return await this.#writing;
    } finally {
      this.#writing = null;
    }
  }

  /** Writes what is held, also what is added meanwhile; what a dead disk still refuses is counted as dropped. */
  async close(): Promise<void> {
    while ((await this.flush()) && this.#held.length > 0);
    this.#closed = true;
    if (this.#timer) clearTimeout(this.#timer);
    this.#timer = null;
    this.#dropped += this.#held.length + (this.#sending?.entries ?? 0);
    this.#held = [];
    this.#sending = null;
  }

  #writeIn(ms: number): void {
    this.#timer ??= setTimeout(() => {
      this.#timer = null;
      void this.flush();
    }, ms);
  }

  /** A record without its first line could not be read at all: the oldest after it goes. */
  #dropOne(): void {
    const isFirst = this.#seq === 0 && !this.#sending;
    this.#held.splice(isFirst ? 1 : 0, 1);
    this.#dropped += 1;
  }

  async #write(): Promise<boolean> {
    // What is added while the disk is busy waits for its own time.
    let owed = this.#held.length + (this.#sending?.entries ?? 0);
    while (owed > 0) {
      this.#sending ??= this.#nextBatch();
      try {
        await this.#options.append(this.#sending);
        owed -= this.#sending.entries;
        this.#sending = null;
      } catch (error) {
        this.#failing = true;
        this.#writeIn(RETRY_AFTER_MS);
        this.#options.onTrouble(error);
        return false;
      }
    }
    if (this.#failing) {
      this.#failing = false;
      this.#options.onTrouble(null);
    }
    return true;
  }

  #nextBatch(): RecordBatch {
    const taken = this.#held.splice(0, MOST_IN_BATCH);
    this.#seq += 1;
    const batch: RecordBatch = {
      job: this.job,
      seq: this.#seq,
      lines: '',
      entries: taken.length,
      readings: 0,
      firstAtMs: taken[0]!.atMs,
      lastAtMs: taken.at(-1)!.atMs,
      lowMm: null,
      highMm: null,
    };
    const lines: string[] = [];
    for (const { line, shownMm, isReading } of taken) {
      lines.push(line);
      if (isReading) batch.readings += 1;
      if (shownMm === null) continue;
      batch.lowMm = Math.min(batch.lowMm ?? shownMm, shownMm);
      batch.highMm = Math.max(batch.highMm ?? shownMm, shownMm);
    }
    batch.lines = `${lines.join('\n')}\n`;
    return batch;
  }
}
