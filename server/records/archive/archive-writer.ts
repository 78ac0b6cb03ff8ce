import type { Answer, Fault } from '@taptrue/protocol';
import { DONE, done, refused } from '../../state/answers.ts';
import type { LateEntry } from '../store/add-entry.ts';
import type { ArchiveOptions, ProofCommand } from './archive-command.ts';
import {
  jobNotKept,
  noteEmpty,
  noteNotThere,
  sweepNotKept,
  writingHeld,
} from './archive-faults.ts';

type Writing = Extract<ProofCommand, { kind: 'write note' | 'strike note' | 'tag job' }>;
type Entry = { ok: true; entry: LateEntry; note: string } | { ok: false; fault: Fault };

/** Jobs whose last note number is remembered, for notes that the disk has not taken yet. */
const MOST_REMEMBERED = 100;

/** Writes notes and tags to kept jobs, one after the other, whether the job goes on or was closed long ago. */
export class ArchiveWriter {
  readonly #options: ArchiveOptions;
  #writing: Promise<unknown> = Promise.resolve();
  readonly #lastNotes = new Map<string, number>();

  constructor(options: ArchiveOptions) {
    this.#options = options;
  }

  /** One at a time: the number of a note is that of the one before and one more. */
  write(command: Writing): Promise<Answer> {
    const written = this.#writing.then(() => this.#write(command));
    this.#writing = written.catch(() => undefined);
    return written;
  }

  async #write(command: Writing): Promise<Answer> {
    const { records } = this.#options;
    // What was measured a moment ago is in the tables once it is on the disk.
    await records.flush();
    const made = await this.#entryOf(command);
    if (!made.ok) return refused(made.fault);
    const kept = await records.addTo(command.job, made.entry);
    if (kept === 'no such job') return refused(jobNotKept(command.job));
    return kept === 'held' ? refused(writingHeld()) : made.note === '' ? DONE : done(made.note);
  }

  async #entryOf(command: Writing): Promise<Entry> {
    const facts = await this.#options.records.read.do('noteFacts', command.job);
    if (facts === null) return { ok: false, fault: jobNotKept(command.job) };
    const by = command.by.trim();
    const common = { atMs: this.#options.now(), wallClock: this.#options.wallClock(), by };
    switch (command.kind) {
      case 'write note': {
        const text = command.text.trim();
        if (text === '') return notWritten(noteEmpty('The note is empty.'));
        if (by === '') return notWritten(noteEmpty('Nobody is named as the writer.'));
        const { sweep } = command;
        if (sweep !== null && !facts.sweeps.includes(sweep))
          return notWritten(sweepNotKept(`sweep ${sweep}`));
        const number = Math.max(facts.lastNote, this.#lastNotes.get(command.job) ?? 0) + 1;
        this.#remember(command.job, number);
        return { ok: true, note: '', entry: { entry: 'note', ...common, number, sweep, text } };
      }
      case 'strike note': {
        if (!facts.standing.includes(command.number))
          return notWritten(noteNotThere(command.number));
        if (by === '') return notWritten(noteEmpty('Nobody is named who strikes it out.'));
        const { number, why } = command;
        return {
          ok: true,
          note: 'Struck out; it stays on the record.',
          entry: { entry: 'note struck out', ...common, number, why: why.trim() },
        };
      }
      case 'tag job': {
        const { on } = command;
        const tag = command.tag.trim().toLowerCase();
        return { ok: true, note: '', entry: { entry: 'tagged', ...common, tag, on } };
      }
    }
  }

  #remember(job: string, number: number): void {
    this.#lastNotes.delete(job);
    this.#lastNotes.set(job, number);
    if (this.#lastNotes.size <= MOST_REMEMBERED) return;
    const [oldest] = this.#lastNotes.keys();
    this.#lastNotes.delete(oldest!);
  }
}

function notWritten(fault: Fault): Entry {
  return { ok: false, fault };
}
