import type { Fault, LinkName, LinkState, Reading } from '@taptrue/protocol';

/** A device that moved this recently did not fall asleep; the shortest auto-off met is half a minute. */
const LEAST_IDLE_MS = 25_000;
/** Once may be a cable. */
const LEAST_TIMES = 2;
/** The same wait each time, to within this part of it: a clock, not an accident. */
const SAME_WITHIN = 0.1;
/** Waits looked back over. */
const MOST_KEPT = 8;
/** A needle at rest trembles by a count or two of its last digit; a touch moves it farther. */
const TREMBLE_DIGITS = 3;

/**
 * Notices a device that switches itself off: it falls silent after the same time without movement, again and
 * again. A loose cable keeps no such time. Pure.
 */
export class SleepWatch {
  readonly #device: LinkName;
  #stillFrom: { valueMm: number; atMs: number } | null = null;
  #lastReadingAtMs: number | null = null;
  #idlesMs: number[] = [];
  #isSilent = false;

  constructor(device: LinkName) {
    this.#device = device;
  }

  reading({ valueMm, decimals, unit, atMs }: Reading): void {
    this.#isSilent = false;
    this.#lastReadingAtMs = atMs;
    if (valueMm === null) return;
    const digitMm = 10 ** -decimals * (unit === 'in' ? 25.4 : 1);
    const moved =
      this.#stillFrom === null ||
      Math.abs(valueMm - this.#stillFrom.valueMm) > TREMBLE_DIGITS * digitMm;
    if (moved) this.#stillFrom = { valueMm, atMs };
  }

  state(state: LinkState): void {
    if (state !== 'silent' && state !== 'lost') return;
    if (this.#isSilent || this.#stillFrom === null || this.#lastReadingAtMs === null) return;
    this.#isSilent = true;
    const idleMs = this.#lastReadingAtMs - this.#stillFrom.atMs;
    this.#stillFrom = null;
    if (idleMs < LEAST_IDLE_MS) return;
    this.#idlesMs.push(idleMs);
    if (this.#idlesMs.length > MOST_KEPT) this.#idlesMs.shift();
  }

  faults(): Fault[] {
    const last = this.#idlesMs.at(-1);
    if (last === undefined) return [];
    const alike = this.#idlesMs.filter((ms) => Math.abs(ms - last) <= SAME_WITHIN * last);
    if (alike.length < LEAST_TIMES) return [];
    return [
      {
        code: 'falls-asleep',
        what: `The ${this.#device} switches itself off after about ${durationWords(last)} without movement.`,
        got: `silent after ${alike.map((ms) => `${Math.round(ms / 1000)} s`).join(', ')} at rest`,
        remedy:
          'Switch automatic power-off off in its settings, or feed it from its lead. Until then move the stylus before each sweep, and check its zero after it wakes.',
      },
    ];
  }
}

function durationWords(ms: number): string {
  const seconds = Math.round(ms / 1000);
  return seconds < 100 ? `${seconds} s` : `${Math.round(seconds / 60)} min`;
}
