import type { Command, RecordEntry } from '@taptrue/protocol';

/** Commands after which the page says something else than it did, and what is said of them. */
const CHANGES: Partial<Record<Command['kind'], string>> = {
  'change card': 'the card was changed',
  'change setup': 'the setup was changed',
  'set stage': 'the clamps were changed',
  'begin nudge': 'the nudge was done anew',
  'skip nudge': 'the nudge was skipped',
  'forget nudge': 'the nudge was forgotten',
  'forget learned pivot': 'the pivot was changed',
  'answer turn': 'the pivot was changed',
  'keep set-up': 'another set-up was kept',
  'aim by part': 'the aim was changed',
  connect: 'a device was connected',
};

/** What was done to a job after a signature and is on its page: the name beneath does not stand for that. */
export class SinceSigned {
  #sweeps = 0;
  #taps = 0;
  readonly #changes = new Set<string>();

  /** The next entry of the record behind `signed`. */
  push(entry: RecordEntry): void {
    if (entry.entry === 'sweep ended') this.#sweeps += 1;
    else if (entry.entry === 'tap step') this.#taps += 1;
    else if (entry.entry === 'plan used') this.#changes.add('another plan was used');
    else if (entry.entry === 'command' && entry.answer.ok) {
      const change = CHANGES[entry.command.kind];
      if (change) this.#changes.add(change);
    }
  }

  /** In words; empty: nothing was done. */
  get words(): string[] {
    return [
      counted(this.#sweeps, 'sweep was taken', 'sweeps were taken'),
      counted(this.#taps, 'tap was noticed', 'taps were noticed'),
      ...this.#changes,
    ].filter((text) => text !== '');
  }
}

function counted(count: number, one: string, more: string): string {
  if (count === 0) return '';
  return count === 1 ? `1 ${one}` : `${count} ${more}`;
}
