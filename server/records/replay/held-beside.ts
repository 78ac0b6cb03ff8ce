import type { RecordEntry, ReplayFigures, ReplaySection } from '@taptrue/protocol';

type Ended = Extract<RecordEntry, { entry: 'sweep ended' }>;

/** Entries of one kind that may wait for their other half: the bench says them in the same order. */
const MOST_WAITING = 1000;

/**
 * What the record says follows, beside what follows now: the same text to the last digit, or different. Holds
 * the last sweep that ended with both its figures.
 */
export class HeldBeside {
  #recorded: RecordEntry[] = [];
  #recomputed: RecordEntry[] = [];
  #lastRecorded: Ended | null = null;
  #lastRecomputed: Ended | null = null;
  #compared: ReplaySection['compared'] = null;
  same = 0;
  different = 0;

  recorded(entry: RecordEntry): void {
    if (entry.entry === 'sweep ended') {
      this.#lastRecorded = entry;
      this.#compared = null;
    }
    this.#recorded.push(entry);
    this.#settle();
  }

  recomputed(entry: RecordEntry): void {
    if (entry.entry === 'sweep ended') {
      this.#lastRecomputed = entry;
      this.#compared = null;
    }
    this.#recomputed.push(entry);
    this.#settle();
  }

  /** The last sweep that ended by the record; null: none yet. */
  get compared(): ReplaySection['compared'] {
    // Asked for ten times a second; it changes when a sweep ends.
    this.#compared ??= this.#compare();
    return this.#compared;
  }

  #compare(): ReplaySection['compared'] {
    const recorded = this.#lastRecorded;
    if (!recorded) return null;
    const again = this.#lastRecomputed;
    const recomputed = again?.sweep === recorded.sweep ? again : null;
    return {
      sweep: recorded.sweep,
      isSame: JSON.stringify(recorded) === JSON.stringify(recomputed),
      recorded: figuresOf(recorded),
      recomputed: recomputed && figuresOf(recomputed),
    };
  }

  #settle(): void {
    while (this.#recorded.length > 0 && this.#recomputed.length > 0) {
      const [recorded, recomputed] = [this.#recorded.shift(), this.#recomputed.shift()];
      if (JSON.stringify(recorded) === JSON.stringify(recomputed)) this.same += 1;
      else this.different += 1;
    }
    // One half has come to be missing for good: each of the other is a difference.
    for (const waiting of [this.#recorded, this.#recomputed]) {
      if (waiting.length > MOST_WAITING) this.different += waiting.splice(0).length;
    }
  }
}

function figuresOf({ result }: Ended): ReplayFigures | null {
  if (!result) return null;
  const { outOfTrueArcsec, outOfTrueArcsecExpanded, endToEndMm, tapToReadingMm } = result;
  return {
    outOfTrueArcsec,
    outOfTrueArcsecExpanded,
    endToEndMm,
    tapToReadingMm,
    verdict: result.verdict,
    sentence: result.sentence,
  };
}
