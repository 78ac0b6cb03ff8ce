import { randomUUID } from 'node:crypto';
import { readdirSync, rmSync } from 'node:fs';
import { open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Fault, ImportedRecording, RecordEntry } from '@taptrue/protocol';
import { makeFolder } from '../../files/make-folder.ts';
import type { JobJournal } from '../journal/job-journal.ts';
import type { SheetAsk } from '../sheet/print-record.ts';
import { codeIn } from '../store/store-faults.ts';
import { csvFileName, recordingFileName } from './file-names.ts';
import { tooLarge } from './recording-faults.ts';
import { RecordingWriter } from './recording-writer.ts';
import { sweepCsv } from './sweep-csv.ts';

/** A day of 1,000 readings a second is some 25 GB and comes by the command line; a job is some MB. */
export const LARGEST_UPLOAD_MB = 512;

const INCOMING = 'incoming-';
const PART = '.part';

/** What a service that was killed had only half laid down is nobody's, and may be half a gigabyte. */
function clearUnfinished(folder: string): void {
  try {
    const names = readdirSync(folder);
    for (const name of names.filter((one) => one.startsWith(INCOMING) && one.endsWith(PART)))
      rmSync(join(folder, name), { force: true });
  } catch {
    // There is no folder yet, or it may not be written to: then nothing is taken in either.
  }
}

/** A file to be handed out: its name on any system, and what is in it. */
export interface Given<T> {
  name: string;
  content: T;
}

/** Kept jobs on their way out of the house and in: recordings, tables, paper. All file work of it is here. */
export class ExchangeController {
  readonly #records: JobJournal;
  readonly #folder: string;
  #isTakingIn = false;

  constructor(records: JobJournal, folder: string) {
    this.#records = records;
    this.#folder = folder;
    clearUnfinished(folder);
  }

  /** A job as a recording, or up to one sweep of it; null where there is no such job or sweep. */
  async recording(key: string, sweep: number | null): Promise<Given<AsyncIterable<string>> | null> {
    await this.#records.flush();
    const { read } = this.#records;
    if (sweep !== null) {
      const [found] = await read.do('keptSweeps', [{ job: key, number: sweep }]);
      if (!found) return null;
    }
    const heads = await read.do('chunkHeads', key);
    const [first] = heads;
    if (!first) return null;
    const piece = await read.do('chunkLines', { job: key, seq: first.seq });
    const opened = JSON.parse(piece.slice(0, piece.indexOf('\n'))) as RecordEntry;
    if (opened.entry !== 'opened') return null;
    const name = recordingFileName(opened.start.job, key, sweep);
    return { name, content: this.#texts(key, heads, sweep) };
  }

  /** The points of one sweep as a table; null where there is none. */
  async points(key: string, sweep: number): Promise<Given<string> | null> {
    const [found] = await this.#records.read.do('keptSweeps', [{ job: key, number: sweep }]);
    if (!found) return null;
    const { jobNumber, ended } = found;
    return {
      name: csvFileName(jobNumber, key, sweep),
      content: sweepCsv(ended, { job: key, jobNumber }),
    };
  }

  /** The one-page record as HTML, or why there is none. */
  async sheet(ask: SheetAsk): Promise<{ ok: true; html: string } | { ok: false; fault: Fault }> {
    await this.#records.flush();
    return this.#records.work.do('keptSheet', ask);
  }

  /** Recordings that come as a stream of bytes: kept beside until all is there, then checked and taken in. */
  async takeIn(
    bytes: AsyncIterable<Uint8Array>,
  ): Promise<{ ok: true; imported: ImportedRecording[] } | { ok: false; fault: Fault }> {
    if (this.#isTakingIn) return { ok: false, fault: beingTakenIn() };
    this.#isTakingIn = true;
    // A name of our own: whatever the file is called elsewhere does not reach the disk here.
    const file = join(this.#folder, `${INCOMING}${randomUUID()}${PART}`);
    try {
      if (!(await this.#laidDown(bytes, file)))
        return { ok: false, fault: tooLarge(LARGEST_UPLOAD_MB) };
      return { ok: true, imported: await this.#records.work.do('importRecordings', file) };
    } catch (error) {
      return { ok: false, fault: notTakenIn(codeIn(error)) };
    } finally {
      await rm(file, { force: true }).catch(() => undefined);
      this.#isTakingIn = false;
    }
  }

  async *#texts(
    key: string,
    heads: readonly { seq: number }[],
    sweep: number | null,
  ): AsyncGenerator<string> {
    const writer = new RecordingWriter(sweep);
    for (const { seq } of heads) {
      const text = writer.push(await this.#records.read.do('chunkLines', { job: key, seq }));
      if (text !== '') yield text;
      if (writer.isOver) break;
    }
    yield writer.end();
  }

  /** False where it is larger than may come. */
  async #laidDown(bytes: AsyncIterable<Uint8Array>, file: string): Promise<boolean> {
    makeFolder(this.#folder);
    const handle = await open(file, 'wx');
    let size = 0;
    try {
      for await (const piece of bytes) {
        size += piece.length;
        if (size > LARGEST_UPLOAD_MB * 1e6) return false;
        await handle.writeFile(piece);
      }
      return true;
    } finally {
      await handle.close();
    }
  }
}

function beingTakenIn(): Fault {
  return {
    code: 'recording-being-taken-in',
    what: 'Another recording is being taken in.',
    got: '',
    remedy: 'Wait until that one is done, and try again.',
  };
}

function notTakenIn(got: string): Fault {
  return {
    code: 'recording-not-taken-in',
    what: 'The recording could not be written here.',
    got,
    remedy: 'Make room on the disk, look at the fault about the record, and try again.',
  };
}
