import type { RecordEntry, RecordEntryOf } from '@taptrue/protocol';
import { Bench } from '../../bench/bench.ts';
import type { SetUp } from '../../set-ups/set-up.ts';
import type { SectionStore } from '../../state/section-store.ts';
import { shippedSetUps } from '../set-ups/shipped-set-ups.ts';

/** What a bench says by itself when it is told again what happened. */
export const FOLLOWS = new Set<RecordEntry['entry']>([
  'station',
  'tap step',
  'sweep ended',
  'between sweeps',
  'set-up kept',
]);

export interface ReplayOptions {
  store: SectionStore;
  /** Left out: those that ship. */
  setUps?: readonly SetUp[];
  opened: RecordEntryOf<'opened'>;
  /** What the replayed bench says by itself: stations, tap steps, ended sweeps, in their order. */
  onFollows?(entry: RecordEntry): void;
  /** Where the bench's entries go once it is told `goOn`. */
  record?(entry: RecordEntry): void;
  nextJob?(): { number: number; key: string };
  wallClock?(): string;
}

/**
 * A bench told again what its record says happened: the same calls at the same times give the same state and
 * the same results, bit for bit. Serves replay on a screen, verifying, and taking a job up again after the
 * service ended. No clock and no I/O.
 */
export class JobReplay {
  readonly bench: Bench;
  readonly #options: ReplayOptions;
  #live = false;
  #lastAtMs: number;

  constructor(options: ReplayOptions) {
    this.#options = options;
    const { opened } = options;
    this.#lastAtMs = opened.atMs;
    this.bench = new Bench(
      options.store,
      {
        name: opened.bench,
        serviceVersion: opened.version,
        remembered: null,
        setUps: options.setUps ?? shippedSetUps,
        isSimulated: opened.simulated,
        start: opened.start,
        record: (entry) => this.#said(entry),
        ...(options.nextJob && { nextJob: options.nextJob }),
        ...(options.wallClock && { wallClock: options.wallClock }),
      },
      opened.atMs,
    );
  }

  /** Time of the last entry applied, by the recording's own clock. */
  get lastAtMs(): number {
    return this.#lastAtMs;
  }

  /** True while a reading can matter to what is being taken; others only move the needle. */
  get readingsMatter(): boolean {
    const { sweep, tap, nudges } = this.#options.store.state;
    return (
      sweep?.state === 'being taken' ||
      tap !== null ||
      nudges.x.state === 'waiting for the move' ||
      nudges.y.state === 'waiting for the move'
    );
  }

  apply(entry: RecordEntry): void {
    const { bench } = this;
    this.#lastAtMs = entry.atMs;
    switch (entry.entry) {
      case 'reading':
        if (entry.second) bench.otherAxis(entry.link, entry.reading);
        else bench.reading(entry.link, entry.reading);
        return;
      case 'link':
        bench.linkReport(entry.link, entry.report, entry.atMs);
        return;
      case 'tick':
        bench.tick(entry.atMs);
        return;
      case 'command':
        // A new job is the end of this recording; what came after is in its own.
        if (entry.command.kind !== 'new job') bench.command(entry.command, entry.atMs);
        return;
      default:
        return;
    }
  }

  /** From here on the bench is a live one, and what it says is recorded. */
  goOn(): void {
    this.#live = true;
  }

  #said(entry: RecordEntry): void {
    if (this.#live) this.#options.record?.(entry);
    else if (FOLLOWS.has(entry.entry)) this.#options.onFollows?.(entry);
  }
}
