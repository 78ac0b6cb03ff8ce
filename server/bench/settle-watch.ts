import { median } from '../measure/sweep/median.ts';

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
/** Readings nearer in time than this are passed over: at 1,000 a second 64 of them would not reach back 150 ms. */
const LEAST_APART_MS = 5;
/** Two readings of a resting needle differ by a count or two of the last digit, and by its noise. */
const REST_IN_DIGITS = 2.2;
/** Spread of eight normal readings is 2.8 standard deviations; five leaves one false step in thousands. */
const REST_IN_NOISE = 5;
/** Median of |difference| of successive normal readings is 0.954 standard deviations of one reading. */
const NOISE_PER_MEDIAN_STEP = 1 / 0.954;
/** Below a micrometre no mallet works. */
const LEAST_TOLERANCE_MM = 0.001;
/** A drift of the rest level (warmth, creep) is followed by this part a reading, so it never adds up to a step. */
const DRIFT_FOLLOW = 0.02;

/**
 * Sees taps in a stream of readings: the needle rests, jumps and rings, and rests elsewhere. Only rest levels
 * count, so the ringing of a blow is never taken for its effect.
 */
export class SettleWatch {
  readonly #digitMm: number;
  #recent: { readingMm: number; atMs: number }[] = [];
  #restMm: number | null = null;

  /** @param digitMm one step of the last digit shown. */
  constructor(digitMm: number) {
    this.#digitMm = digitMm;
  }

  /** Readings within this of each other are one level, mm. Noise is taken from the readings themselves. */
  get toleranceMm(): number {
    const steps: number[] = [];
    for (let index = 1; index < this.#recent.length; index += 1) {
      steps.push(Math.abs(this.#recent[index]!.readingMm - this.#recent[index - 1]!.readingMm));
    }
    const noiseMm = steps.length === 0 ? 0 : median(steps) * NOISE_PER_MEDIAN_STEP;
    return Math.max(LEAST_TOLERANCE_MM, REST_IN_DIGITS * this.#digitMm, REST_IN_NOISE * noiseMm);
  }

  /** The level the needle rests at, or null before it first came to rest. */
  get restMm(): number | null {
    return this.#restMm;
  }

  push(readingMm: number, atMs: number): Step | null {
    const last = this.#recent.at(-1);
    if (last && atMs - last.atMs < LEAST_APART_MS) return null;
    this.#recent.push({ readingMm, atMs });
    if (this.#recent.length > MOST_KEPT) this.#recent.shift();
    const toleranceMm = this.toleranceMm;
    const window = this.#restingWindow(atMs, toleranceMm);
    if (window === null) return null;
    const levelMm = median(window);
    const before = this.#restMm;
    if (before === null) {
      this.#restMm = levelMm;
      return null;
    }
    if (Math.abs(levelMm - before) <= toleranceMm) {
      this.#restMm = before + (levelMm - before) * DRIFT_FOLLOW;
      return null;
    }
    this.#restMm = levelMm;
    return { beforeMm: before, afterMm: levelMm, atMs };
  }

  /** The last readings, if they are enough, long enough, and all of one level; else null. */
  #restingWindow(nowMs: number, toleranceMm: number): number[] | null {
    const window: number[] = [];
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let index = this.#recent.length - 1; index >= 0; index -= 1) {
      const { readingMm, atMs } = this.#recent[index]!;
      low = Math.min(low, readingMm);
      high = Math.max(high, readingMm);
      if (high - low > toleranceMm) return null;
      window.push(readingMm);
      if (window.length >= RESTING_READINGS && nowMs - atMs >= RESTING_MS) return window;
    }
    return null;
  }
}
