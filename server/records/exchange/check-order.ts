import type { Fault, RecordEntry } from '@taptrue/protocol';
import { outOfOrder, outOfPlace } from './recording-faults.ts';

/**
 * A reading carries the time its last byte came and may be written after a command that came meanwhile;
 * beyond a second it did not.
 */
export const ORDER_SLACK_MS = 1000;

/** Follows from an entry beside it, or is written by a person at any time later. */
const HAVE_NO_PLACE_IN_TIME = new Set<RecordEntry['entry']>([
  'station',
  'tap step',
  'sweep ended',
  'between sweeps',
  'set-up kept',
  'fault',
  'note',
  'note struck out',
  'tagged',
]);

/** The order of a job's entries: begun once, at the beginning, and the clock does not go back. */
export class OrderCheck {
  #begun = false;
  #lastAtMs = new Map<string, number>();

  /** What is wrong with this entry's place; null: nothing. */
  next(entry: RecordEntry): Fault | null {
    if (!this.#begun) {
      this.#begun = true;
      if (entry.entry !== 'opened')
        return outOfPlace(`"${entry.entry}" where "opened" begins the job`);
    } else if (entry.entry === 'opened') {
      return outOfPlace('"opened" a second time; another job begins with a header');
    }
    if (HAVE_NO_PLACE_IN_TIME.has(entry.entry)) return null;
    // Each device has its own way to the bench, and its own delay.
    const clock = entry.entry === 'reading' ? entry.link : 'hand';
    const before = this.#lastAtMs.get(clock) ?? Number.NEGATIVE_INFINITY;
    if (entry.atMs < before - ORDER_SLACK_MS)
      return outOfOrder(`atMs ${entry.atMs} after ${before}`);
    this.#lastAtMs.set(clock, Math.max(before, entry.atMs));
    return null;
  }
}
