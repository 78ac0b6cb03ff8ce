import {
  type RecordEntry,
  type RecordEntryOf,
  type Setup,
  WHAT_IF_PARTS,
  type WhatIfSetup,
} from '@taptrue/protocol';
import { firstState } from '../../bench/first-state.ts';
import { SectionStore } from '../../state/section-store.ts';
import { FOLLOWS, JobReplay } from '../journal/job-replay.ts';
import { HeldBeside } from './held-beside.ts';

/**
 * A bench told a record, with parts of the setup tried otherwise: whatever the record or a nudge sets there, the
 * tried value stands again at once. No clock and no I/O.
 */
export class ToldBench {
  readonly store: SectionStore;
  readonly beside = new HeldBeside();
  readonly #replay: JobReplay;
  readonly #whatIf: Partial<WhatIfSetup>;
  /** What the record says stands where something else is tried. */
  #recorded: WhatIfSetup;
  #seen: Setup;
  #version: string;

  constructor(opened: RecordEntryOf<'opened'>, whatIf: Partial<WhatIfSetup>) {
    this.store = new SectionStore(firstState(opened.bench, opened.version));
    this.#whatIf = whatIf;
    this.#version = opened.version;
    this.#replay = new JobReplay({
      store: this.store,
      opened,
      onFollows: (entry) => this.beside.recomputed(entry),
    });
    this.#seen = this.#replay.bench.setup;
    this.#recorded = partsOf(this.#seen);
    this.#tryOtherwise(opened.atMs);
  }

  /** Parts of the setup by the record, as of the last entry told. */
  get recordedSetup(): WhatIfSetup {
    return this.#recorded;
  }

  /** Version of the program that recorded the last entry told. */
  get recordedVersion(): string {
    return this.#version;
  }

  tell(entry: RecordEntry): void {
    if (FOLLOWS.has(entry.entry)) {
      this.beside.recorded(entry);
      return;
    }
    if (entry.entry === 'resumed') this.#version = entry.version;
    this.#replay.apply(entry);
    const { setup } = this.#replay.bench;
    if (setup === this.#seen) return;
    this.#noteRecorded(entry, setup);
    this.#tryOtherwise(entry.atMs);
  }

  raise(from: string, fault: Parameters<JobReplay['bench']['raise']>[1], atMs: number): void {
    this.#replay.bench.raise(from, fault, atMs);
  }

  clearFault(code: string): boolean {
    return this.#replay.bench.clearFault(code);
  }

  #noteRecorded(entry: RecordEntry, setup: Setup): void {
    const command = entry.entry === 'command' ? entry.command : null;
    const change = command?.kind === 'change setup' ? command.change : {};
    const recorded = partsOf(setup);
    for (const part of WHAT_IF_PARTS) {
      if (this.#whatIf[part] === undefined || part in change) continue;
      // A nudge sets the sense without a word of it; otherwise the tried value is what is seen here.
      const isTried = setup[part] === this.#seen[part];
      if (isTried) Object.assign(recorded, { [part]: this.#recorded[part] });
    }
    this.#recorded = recorded;
    this.#seen = setup;
  }

  #tryOtherwise(atMs: number): void {
    const { bench } = this.#replay;
    const change = Object.fromEntries(
      Object.entries(this.#whatIf).filter(
        ([part, value]) => bench.setup[part as keyof WhatIfSetup] !== value,
      ),
    );
    if (Object.keys(change).length > 0) bench.tryOtherwise(change, atMs);
    this.#seen = bench.setup;
  }
}

function partsOf({ pivot, limit, stylus, rises, decisionRule }: Setup): WhatIfSetup {
  return { pivot, limit, stylus, rises, decisionRule };
}
