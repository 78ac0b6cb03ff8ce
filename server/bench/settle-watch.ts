/** A needle that came to rest somewhere else. Readings in mm as shown. */
export interface Step {
  beforeMm: number;
  afterMm: number;
  atMs: number;
}

/** The needle counts as at rest when this many readings, over at least this time, lie within the tolerance. */
const RESTING_READINGS = 4;
const RESTING_MS = 150;
/** Readings kept while waiting for rest; more than a second at 50 readings/s is not needed to see four agree. */
const MOST_KEPT = 64;
/** A drift of the rest level (warmth, creep) is followed by this part a reading, so it never adds up to a step. */
const DRIFT_FOLLOW = 0.02;

/**
 * Sees taps in a stream of readings: the needle rests, jumps and rings, and rests elsewhere. Only rest levels
 * count, so the ringing of a blow is never taken for its effect.
 */
export class SettleWatch {
  readonly #toleranceMm: number;
  #recent: { readingMm: number; atMs: number }[] = [];
  #restMm: number | null = null;

  /** @param toleranceMm readings within this of each other are one level; a few times noise or resolution. */
  constructor(toleranceMm: number) {
    this.#toleranceMm = toleranceMm;
  }

  /** The level the needle rests at, or null before it first came to rest. */
  get restMm(): number | null {
    return this.#restMm;
  }

  push(readingMm: number, atMs: number): Step | null {
    this.#recent.push({ readingMm, atMs });
    if (this.#recent.length > MOST_KEPT) this.#recent.shift();
    const window = this.#restingWindow(atMs);
    if (window === null) return null;
    const levelMm = median(window);
    const before = this.#restMm;
    if (before === null) {
      this.#restMm = levelMm;
      return null;
    }
    if (Math.abs(levelMm - before) <= this.#toleranceMm) {
      this.#restMm = before + (levelMm - before) * DRIFT_FOLLOW;
      return null;
    }
    this.#restMm = levelMm;
    return { beforeMm: before, afterMm: levelMm, atMs };
  }

  /** The last readings, if they are enough, long enough, and all of one level; else null. */
  #restingWindow(nowMs: number): number[] | null {
    const window: number[] = [];
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let index = this.#recent.length - 1; index >= 0; index -= 1) {
      const { readingMm, atMs } = this.#recent[index]!;
      low = Math.min(low, readingMm);
      high = Math.max(high, readingMm);
      if (high - low > this.#toleranceMm) return null;
      window.push(readingMm);
      if (window.length >= RESTING_READINGS && nowMs - atMs >= RESTING_MS) return window;
    }
    return null;
  }
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
