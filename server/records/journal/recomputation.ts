import type { BenchState, RecordEntry, RecordEntryOf } from '@taptrue/protocol';
import { firstState } from '../../bench/first-state.ts';
import { SectionStore } from '../../state/section-store.ts';
import { FOLLOWS, JobReplay } from './job-replay.ts';

/** One thing that the record says and that does not come out again. */
export interface Difference {
  /** Which of the entries that follow from what happened, counted from 1. */
  number: number;
  /** Line the recorded one stands in, as it was given; null: there is no recorded one. */
  line: number | null;
  recorded: RecordEntry | null;
  recomputed: RecordEntry | null;
}

/** A record with more differences than this is another program's work; the rest adds nothing. */
export const MOST_DIFFERENCES = 100;

/**
 * What follows from an entry is recorded with it, a handful of lines. More that wait for their counterpart
 * never had one.
 */
const MOST_WAITING = 1000;

export interface RecomputationHooks {
  /** A sweep's end, as recorded and as it comes out now; null: there is none. */
  onSweep?(
    recorded: RecordEntryOf<'sweep ended'> | null,
    recomputed: RecordEntryOf<'sweep ended'> | null,
  ): void;
}

/**
 * Tells a fresh bench what a record says happened, entry by entry, and compares what follows with what the
 * record says followed. Memory does not grow with the record. Pure.
 */
export class Recomputation {
  /** Entries that follow from what happened and came out the same, to the last digit. */
  same = 0;
  readonly differences: Difference[] = [];
  /** Differences, also those beyond MOST_DIFFERENCES. */
  different = 0;
  readonly #hooks: RecomputationHooks;
  readonly #store: SectionStore;
  readonly #replay: JobReplay;
  #recorded: { entry: RecordEntry; line: number }[] = [];
  #recomputed: RecordEntry[] = [];

  constructor(opened: RecordEntryOf<'opened'>, hooks: RecomputationHooks = {}) {
    this.#hooks = hooks;
    this.#store = new SectionStore(firstState(opened.bench, opened.version));
    this.#replay = new JobReplay({
      store: this.#store,
      opened,
      onFollows: (entry) => void this.#recomputed.push(entry),
    });
  }

  /** How the bench stands after what was told so far. */
  get state(): BenchState {
    return this.#store.state;
  }

  /** The next entry and the line it stands in. */
  push(entry: RecordEntry, line: number): void {
    if (FOLLOWS.has(entry.entry)) this.#recorded.push({ entry, line });
    else this.#replay.apply(entry);
    while (this.#recorded.length > 0 && this.#recomputed.length > 0) this.#settle();
    if (this.#recorded.length > MOST_WAITING) this.#settle();
    if (this.#recomputed.length > MOST_WAITING) this.#settle();
  }

  /** Nothing follows any more: what has no counterpart is a difference. */
  end(): void {
    while (this.#recorded.length > 0 || this.#recomputed.length > 0) this.#settle();
  }

  #settle(): void {
    const recorded = this.#recorded.shift() ?? null;
    const recomputed = this.#recomputed.shift() ?? null;
    if (recorded?.entry.entry === 'sweep ended' || recomputed?.entry === 'sweep ended')
      this.#hooks.onSweep?.(sweepIn(recorded?.entry ?? null), sweepIn(recomputed));
    if (recorded && recomputed && JSON.stringify(recorded.entry) === JSON.stringify(recomputed)) {
      this.same += 1;
      return;
    }
    this.different += 1;
    if (this.differences.length >= MOST_DIFFERENCES) return;
    this.differences.push({
      number: this.same + this.different,
      line: recorded?.line ?? null,
      recorded: recorded?.entry ?? null,
      recomputed,
    });
  }
}

function sweepIn(entry: RecordEntry | null): RecordEntryOf<'sweep ended'> | null {
  return entry?.entry === 'sweep ended' ? entry : null;
}
