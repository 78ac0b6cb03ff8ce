import {
  type Answer,
  type BenchState,
  type Command,
  PROTOCOL_VERSION,
  type RecordEntryOf,
  type RecordMark,
  type ReplayMove,
  type ReplaySection,
  WHAT_IF_PARTS,
  type WhatIfSetup,
} from '@taptrue/protocol';
import { ChangesToTell } from './changes-to-tell.ts';
import { Playhead } from './playhead.ts';
import { RecordCursor, type RecordPieces } from './record-cursor.ts';
import { noBeginning, nothingFurther, notInReplay, pieceDamaged, refuse } from './replay-faults.ts';
import { ToldBench } from './told-bench.ts';
import { whyDifferent } from './why-different.ts';

/** Entries between two looks at the clock: a look costs as much as an entry, and 50 of them a fraction of a millisecond. */
const ENTRIES_PER_LOOK = 50;

export interface ReplaySubject {
  id: string;
  /** Key of the job. */
  job: string;
  sweep: number | null;
  beginsMs: number;
  endsMs: number;
  /** Time of day at beginsMs; empty: not known. */
  wallClock: string;
  pieces: RecordPieces;
  /** Oldest first. */
  marks: readonly RecordMark[];
}

/** What stood before the job can be told a bench. */
class NoBeginning extends Error {}

/**
 * One replay: a record told to a bench at a speed, with pause, step and scrub. Works in slices of the time it is
 * given. Going back is telling it from the beginning, out of sight until it is there. No clock and no I/O: time
 * comes with every call.
 */
export class ReplayEngine {
  readonly #subject: ReplaySubject;
  readonly #changes = new ChangesToTell();
  readonly #playhead: Playhead;
  #told: ToldBench;
  #cursor: RecordCursor;
  #whatIf: Partial<WhatIfSetup> = {};
  #damaged = new Set<number>();
  /** Everything up to here is told to the bench. */
  #toldToMs = 0;
  /** Where it was sent and is not yet; the bench is out of sight meanwhile if it had to begin anew. */
  #sentToMs: number | null = null;
  #sentFromMs = 0;

  /** @throws NoBeginning where the record's first entry cannot be read. */
  constructor(subject: ReplaySubject) {
    this.#subject = subject;
    this.#playhead = new Playhead(subject.beginsMs, subject.endsMs);
    [this.#told, this.#cursor] = this.#fromTheBeginning();
    this.#sendTo(subject.beginsMs);
  }

  static open(
    subject: ReplaySubject,
  ): { ok: true; engine: ReplayEngine } | (Answer & { ok: false }) {
    try {
      return { ok: true, engine: new ReplayEngine(subject) };
    } catch (error) {
      if (!(error instanceof NoBeginning)) throw error;
      return { ok: false, fault: noBeginning(subject.job) };
    }
  }

  /** True while there is something to do without being asked. */
  get isBusy(): boolean {
    return this.#sentToMs !== null || this.#playhead.isPlaying;
  }

  /** True while changes wait for their turn to be told. */
  get hasUntold(): boolean {
    return this.#changes.hasUntold(() => this.#section());
  }

  move(move: ReplayMove, nowMs: number): Answer {
    switch (move.move) {
      case 'play':
        if (this.#playhead.atMs >= this.#subject.endsMs) this.#goTo(this.#subject.beginsMs);
        this.#playhead.play(nowMs);
        return DONE;
      case 'pause':
        this.#playhead.pause();
        return DONE;
      case 'speed':
        this.#playhead.setSpeed(move.speed, nowMs);
        return DONE;
      case 'step':
        return this.#step(move);
      case 'to':
        this.#goTo(move.atMs);
        return DONE;
      case 'as recorded':
        return this.#tryOtherwise({});
      case 'close':
        return DONE;
    }
  }

  /** Another setup may be tried, and faults may be read; everything else belongs to the bench. */
  command(command: Command): Answer {
    if (command.kind === 'clear fault') {
      this.#told.clearFault(command.code);
      return DONE;
    }
    if (command.kind !== 'change setup') return refuse(notInReplay(command.kind));
    const others = Object.keys(command.change).filter(
      (part) => !(WHAT_IF_PARTS as readonly string[]).includes(part),
    );
    if (others.length > 0) return refuse(notInReplay(`change setup: ${others.join(', ')}`));
    return this.#tryOtherwise({ ...this.#whatIf, ...(command.change as Partial<WhatIfSetup>) });
  }

  /** Does what is due at `nowMs`, as long as `hasTime` says; true: there is more to do at once. */
  advance(nowMs: number, hasTime: () => boolean): boolean {
    if (this.#sentToMs !== null) {
      if (!this.#tellUntil(this.#sentToMs, hasTime)) return true;
      this.#playhead.putAt(this.#sentToMs, nowMs);
      this.#sentToMs = null;
      this.#changes.show(this.#told.store);
    }
    const dueMs = this.#playhead.dueAt(nowMs);
    if (dueMs === null) return false;
    if (this.#tellUntil(dueMs, hasTime)) {
      this.#playhead.reached(dueMs, nowMs);
      return false;
    }
    this.#playhead.fellBehind(this.#cursor.peek()?.atMs ?? dueMs, nowMs);
    return true;
  }

  /** Sections that changed since the last call, as they are now. */
  take(nowMs: number): Partial<BenchState> {
    return this.#changes.take(nowMs, () => this.#section());
  }

  #step({ way, to }: Extract<ReplayMove, { move: 'step' }>): Answer {
    this.#playhead.pause();
    const here = this.#sentToMs ?? this.#playhead.atMs;
    const { beginsMs, endsMs } = this.#subject;
    const wanted = this.#subject.marks.filter(
      ({ kind, atMs }) =>
        (to === 'anything' || kind === to) &&
        atMs >= beginsMs &&
        atMs <= endsMs &&
        (way === 'on' ? atMs > here : atMs < here),
    );
    const mark = way === 'on' ? wanted[0] : wanted.at(-1);
    if (!mark) return refuse(nothingFurther(way, to));
    this.#goTo(mark.atMs);
    return { ok: true, note: mark.text };
  }

  #tryOtherwise(whatIf: Partial<WhatIfSetup>): Answer {
    this.#whatIf = withoutRecorded(whatIf, this.#told.recordedSetup);
    const here = this.#sentToMs ?? this.#playhead.atMs;
    [this.#told, this.#cursor] = this.#fromTheBeginning();
    this.#sendTo(here);
    return DONE;
  }

  #goTo(atMs: number): void {
    const { beginsMs, endsMs } = this.#subject;
    const toMs = Math.min(endsMs, Math.max(beginsMs, atMs));
    // What is told cannot be untold.
    if (toMs < this.#toldToMs) [this.#told, this.#cursor] = this.#fromTheBeginning();
    this.#sendTo(toMs);
  }

  #sendTo(atMs: number): void {
    this.#sentToMs = atMs;
    this.#sentFromMs = this.#toldToMs;
  }

  #fromTheBeginning(): [ToldBench, RecordCursor] {
    let told: ToldBench | null = null;
    const cursor = new RecordCursor(this.#subject.pieces, (damage) => {
      this.#damaged.add(damage.piece);
      told?.raise('record', pieceDamaged(this.#subject.job, damage), damage.firstAtMs);
    });
    const opened = cursor.peek();
    if (opened?.entry !== 'opened') throw new NoBeginning();
    cursor.pass();
    told = new ToldBench(opened as RecordEntryOf<'opened'>, this.#whatIf);
    this.#toldToMs = opened.atMs;
    return [told, cursor];
  }

  /** True once everything up to `untilMs` is told. */
  #tellUntil(untilMs: number, hasTime: () => boolean): boolean {
    for (let count = 1; ; count += 1) {
      const entry = this.#cursor.peek();
      if (entry === null || entry.atMs > untilMs) {
        this.#toldToMs = Math.max(this.#toldToMs, untilMs);
        return true;
      }
      if (count % ENTRIES_PER_LOOK === 0 && !hasTime()) return false;
      this.#cursor.pass();
      this.#told.tell(entry);
      this.#toldToMs = Math.max(this.#toldToMs, entry.atMs);
    }
  }

  #section(): ReplaySection {
    const { id, job, sweep, beginsMs, endsMs, wallClock } = this.#subject;
    const { beside, store, recordedSetup, recordedVersion } = this.#told;
    const whatIf = WHAT_IF_PARTS.filter((part) => this.#whatIf[part] !== undefined);
    const { same, different } = beside;
    return {
      id,
      job,
      jobNumber: store.state.bench.job.number,
      sweep,
      atMs: this.#playhead.atMs,
      beginsMs,
      endsMs,
      wallClock,
      speed: this.#playhead.speed,
      isPlaying: this.#playhead.isPlaying,
      reachedSpeed: this.#playhead.reachedSpeed,
      goingThere: this.#partOfTheWay(),
      whatIf,
      recordedSetup,
      compared: beside.compared,
      same,
      different,
      why:
        different === 0
          ? ''
          : whyDifferent({
              whatIf,
              recordedVersion,
              version: PROTOCOL_VERSION,
              piecesDamaged: this.#damaged.size,
            }),
      recordedVersion,
      version: PROTOCOL_VERSION,
      piecesDamaged: this.#damaged.size,
    };
  }

  #partOfTheWay(): number | null {
    if (this.#sentToMs === null) return null;
    const wholeMs = this.#sentToMs - this.#sentFromMs;
    const goneMs = this.#toldToMs - this.#sentFromMs;
    return wholeMs <= 0 ? 1 : Math.min(1, Math.max(0, goneMs / wholeMs));
  }
}

const DONE: Answer = { ok: true, note: '' };

/** What is tried as it was recorded is not tried otherwise. */
function withoutRecorded(
  whatIf: Partial<WhatIfSetup>,
  recorded: WhatIfSetup,
): Partial<WhatIfSetup> {
  return Object.fromEntries(
    Object.entries(whatIf).filter(
      ([part, value]) =>
        JSON.stringify(value) !== JSON.stringify(recorded[part as keyof WhatIfSetup]),
    ),
  );
}
