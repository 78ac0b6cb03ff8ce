import { mkdir, open } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { Fault, RecordEntry } from '@taptrue/protocol';

/** Streamed readings are on disk within this time; keyed ones before they are acknowledged (`flush`). */
export const WRITE_EVERY_MS = 200;
/** Entries held in memory while the disk does not answer: 100 s of 1,000 readings a second. */
export const MOST_HELD_ENTRIES = 100_000;
/** A disk that refused is tried again this often: soon after room was made, without filling a log. */
export const RETRY_AFTER_MS = 1000;

/** The edge to the disk, so that tests can make the nth write fail. */
export interface RecordDisk {
  open(path: string): Promise<OpenRecord>;
}

export interface OpenRecord {
  /** Writes all of it, beginning at this byte of the file. */
  writeAt(bytes: Uint8Array, position: number): Promise<void>;
  datasync(): Promise<void>;
  close(): Promise<void>;
}

const REAL_DISK: RecordDisk = {
  open: async (path) => {
    await mkdir(dirname(path), { recursive: true });
    // 'wx': a record is never written over; two services cannot share one file.
    const handle = await open(path, 'wx');
    return {
      writeAt: async (bytes, position) => {
        for (let done = 0; done < bytes.length; ) {
          const rest = bytes.length - done;
          done += (await handle.write(bytes, done, rest, position + done)).bytesWritten;
        }
      },
      datasync: () => handle.datasync(),
      close: () => handle.close(),
    };
  },
};

/**
 * The only writer of a job's record: newline-delimited JSON, only added to. Adding never waits for the disk;
 * `flush` resolves when everything added before it is on disk. Where the disk fails, measuring goes on, the
 * entries are held up to a limit, the write is tried again, and the fault stands until it succeeds.
 */
export class RecordFile {
  readonly path: string;
  readonly #disk: RecordDisk;
  readonly #onFault: (fault: Fault | null) => void;
  #handle: OpenRecord | null = null;
  #held: string[] = [];
  /** Length of what is surely on disk. A write that failed left a part behind it; the next one covers that. */
  #keptBytes = 0;
  #dropped = 0;
  #writing: Promise<boolean> | null = null;
  #timer: NodeJS.Timeout | null = null;
  #closed = false;
  #failing = false;

  constructor(path: string, onFault: (fault: Fault | null) => void, disk: RecordDisk = REAL_DISK) {
    this.path = path;
    this.#onFault = onFault;
    this.#disk = disk;
  }

  /** Entries lost because the disk failed for longer than the memory or the service lasted. */
  get dropped(): number {
    return this.#dropped;
  }

  add(entry: RecordEntry): void {
    if (this.#closed) return;
    if (this.#held.length >= MOST_HELD_ENTRIES) {
      this.#held.shift();
      this.#dropped += 1;
    }
    this.#held.push(JSON.stringify(entry));
    this.#writeIn(this.#failing ? RETRY_AFTER_MS : WRITE_EVERY_MS);
  }

  /** True once all that was added is on disk; false where the disk refused (the fault stands). */
  async flush(): Promise<boolean> {
    while (this.#writing) await this.#writing;
    if (this.#held.length === 0) return !this.#failing;
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
    this.#dropped += this.#held.length;
    this.#held = [];
    await this.#handle?.close().catch(() => undefined);
    this.#handle = null;
  }

  #writeIn(ms: number): void {
    this.#timer ??= setTimeout(() => {
      this.#timer = null;
      void this.flush();
    }, ms);
  }

  async #write(): Promise<boolean> {
    const batch = this.#held;
    this.#held = [];
    const bytes = Buffer.from(`${batch.join('\n')}\n`);
    try {
      this.#handle ??= await this.#disk.open(this.path);
      await this.#handle.writeAt(bytes, this.#keptBytes);
      await this.#handle.datasync();
      this.#keptBytes += bytes.length;
    } catch (error) {
      this.#held = [...batch, ...this.#held];
      this.#failing = true;
      this.#writeIn(RETRY_AFTER_MS);
      this.#onFault(recordFault(this.path, error));
      return false;
    }
    if (this.#failing) {
      this.#failing = false;
      this.#onFault(null);
    }
    return true;
  }
}

function recordFault(path: string, error: unknown): Fault {
  const code = error instanceof Error && 'code' in error ? String(error.code) : String(error);
  const cause: Record<string, string> = {
    ENOSPC: 'The disk is full: make room.',
    EACCES: 'The folder may not be written to: change its rights, or start with --data FOLDER.',
    EROFS: 'The folder is read-only: start with --data FOLDER on a disk that can be written to.',
    EEXIST: 'A record of that name exists already; another service may be using this folder.',
  };
  return {
    code: 'record-not-kept',
    what: 'The record cannot be written. Measuring goes on, and is held in memory only.',
    got: `${code} at ${path}`,
    remedy: `${cause[code] ?? 'Check the disk.'} What is held is written as soon as that works.`,
  };
}
