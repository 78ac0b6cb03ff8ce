import { join } from 'node:path';
import type { Fault, RecordEntry } from '@taptrue/protocol';
import type { LateEntry } from '../store/add-entry.ts';
import { JobRecord } from '../store/job-record.ts';
import { STORE_FILE } from '../store/open-store.ts';
import type { ChunkHead } from '../store/read-record.ts';
import { recordHasGap, recordNotKept } from '../store/store-faults.ts';
import { StoreThread } from '../store/store-thread.ts';

/** Jobs whose entries wait for a disk that refuses; a bench begins a few a day. */
const MOST_WAITING_JOBS = 20;

/** A thread that gives pieces of records. */
interface PieceReader {
  do(task: 'chunkHeads', job: string): Promise<ChunkHead[]>;
  do(task: 'chunkLines', piece: { job: string; seq: number }): Promise<string>;
}

/** No reading of a stream is taken for a fresh one beyond a second; twice that is surely looked back to. */
const LOOK_BACK_MS = 2000;

/** Of pieces passed over, those a command after them may have taken a reading from: the last, and the last with the indicator. */
function lookedBackTo(passed: readonly ChunkHead[], atMs: number): ChunkHead[] {
  const lastShown = passed.findLast(({ highMm }) => highMm !== null);
  return passed.filter((head) => head === lastShown || head.lastAtMs >= atMs - LOOK_BACK_MS);
}

/** What is kept from before: the job that was going on, and how many there were. */
export interface Stood {
  openJob: string | null;
  jobs: number;
  lastSeq: number;
  /** Latest time of its pieces, ms of the record's clock, also of those that are passed over. */
  lastAtMs: number;
}

/**
 * The records of a bench: one store, written by one thread and read by another, and the record of the job
 * that is going on. Knows nothing of what the entries mean.
 */
export class JobJournal {
  readonly path: string;
  readonly write;
  readonly read;
  readonly work;
  readonly #onFault: (fault: Fault | null) => void;
  #current: JobRecord | null = null;
  /** Jobs before, whose last entries the disk would not take yet. */
  #older: JobRecord[] = [];
  #droppedBefore = 0;

  constructor(folder: string, onFault: (fault: Fault | null) => void) {
    this.path = join(folder, STORE_FILE);
    this.write = StoreThread.toWrite(this.path);
    this.read = StoreThread.toRead(this.path);
    this.work = StoreThread.toWork(this.path);
    this.#onFault = onFault;
  }

  /** Entries lost because the disk failed for longer than the memory lasted. */
  get dropped(): number {
    const records = [...this.#older, ...(this.#current ? [this.#current] : [])];
    return this.#droppedBefore + records.reduce((sum, { dropped }) => sum + dropped, 0);
  }

  /** What was kept before; null where the store cannot be opened (the fault is told). */
  async whereItStood(): Promise<Stood | null> {
    try {
      return await this.write.do('whereItStood', undefined);
    } catch (error) {
      this.#onFault(recordNotKept(this.path, error));
      return null;
    }
  }

  /**
   * Entries of a kept job, piece by piece; `wants` passes over pieces that hold nothing but readings, except those
   * that the next piece told may look back to. Read by the thread that writes where nothing is written yet, at
   * the start: one thread is up sooner than two.
   */
  async *entriesOf(
    job: string,
    wants: (onlyReadings: boolean) => boolean = () => true,
    by: PieceReader = this.read,
  ): AsyncGenerator<RecordEntry> {
    let passed: ChunkHead[] = [];
    for (const head of await by.do('chunkHeads', job)) {
      if (!wants(head.readings === head.entries)) {
        passed = lookedBackTo([...passed, head], head.lastAtMs);
        continue;
      }
      for (const { seq } of [...lookedBackTo(passed, head.firstAtMs), head]) {
        const lines = await by.do('chunkLines', { job, seq });
        for (const line of lines.split('\n')) {
          if (line !== '') yield JSON.parse(line) as RecordEntry;
        }
      }
      passed = [];
    }
  }

  /** The next entries go on behind a kept job. */
  goOn(job: string, lastSeq: number): void {
    this.#current = this.#recordOf(job, lastSeq);
  }

  /** One entry of the job that is going on; `opened` begins a record of its own. */
  add(entry: RecordEntry): void {
    if (entry.entry === 'opened') this.#begin(entry.start.key);
    this.#current?.add(entry);
  }

  /**
   * One entry written to a job whether it goes on or was closed long ago. `held`: the disk refuses, and it is
   * tried again with the job's other entries.
   * @throws StoreRefusal where a closed job's record cannot be written.
   */
  async addTo(job: string, entry: LateEntry): Promise<'kept' | 'held' | 'no such job'> {
    // A record that still counts its pieces must be asked: two counting would give one number twice. One that has
    // nothing to write any more counts no longer: its job may have been emptied, and taken in again, since.
    this.#letGo();
    const counting = [...this.#older, this.#current].find((record) => record?.job === job);
    if (counting) {
      counting.add(entry);
      return (await counting.flush()) ? 'kept' : 'held';
    }
    return (await this.write.do('addEntry', { job, entry })) ? 'kept' : 'no such job';
  }

  /** True once all that was added is on disk. */
  async flush(): Promise<boolean> {
    const flushed = await Promise.all([
      this.#current?.flush() ?? true,
      ...this.#older.map((record) => record.flush()),
    ]);
    return flushed.every(Boolean);
  }

  async close(): Promise<void> {
    for (const record of [...this.#older, this.#current]) await record?.close();
    await Promise.all([this.write.close(), this.read.close(), this.work.close()]);
  }

  #begin(job: string): void {
    const before = this.#current;
    if (before) this.#older.push(before);
    this.#letGo();
    while (this.#older.length > MOST_WAITING_JOBS) {
      const lost = this.#older.shift()!;
      this.#droppedBefore += lost.dropped + lost.pending;
    }
    this.#current = this.#recordOf(job, 0);
  }

  /** Older records that the disk has whole. */
  #letGo(): void {
    this.#older = this.#older.filter((record) => {
      if (record.pending === 0) this.#droppedBefore += record.dropped;
      return record.pending > 0;
    });
  }

  #recordOf(job: string, lastSeq: number): JobRecord {
    let isGapTold = false;
    const record: JobRecord = new JobRecord({
      job,
      lastSeq,
      append: (batch) => this.write.do('append', batch),
      onTrouble: (error) => {
        this.#onFault(error === null ? null : recordNotKept(this.path, error));
        // Told when it begins, and how much it was when it is over; a second apart it would be told all the time.
        if (record.dropped === 0 || (isGapTold && error !== null)) return;
        isGapTold = error !== null;
        this.#onFault(recordHasGap(this.path, record.dropped));
      },
    });
    return record;
  }
}
