/** A reading with the place it was taken at. */
export interface Sample {
  xMm: number;
  readingMm: number;
  atMs: number;
}

/**
 * Two positions further apart in time than this do not say where the stylus was between them. A slow
 * readout sends three a second; one lost leaves 667 ms, two lost are too many.
 */
export const LONGEST_BRACKET_MS = 750;

/** Readings waiting for the position after them; at 1,000 a second and 750 ms that is 750, with room for a gulp. */
export const MOST_WAITING = 2048;

/** No source lags more than this; a box that scans sixteen channels takes a second. */
export const LONGEST_LAG_MS = 2000;
/** Positions kept to look back on where the indicator lags: 1,000 a second over the longest lag. */
const MOST_POSITIONS = 2048;

/** How much later than it happened each source is heard, ms; negative: the other one is later. */
export interface PairingLags {
  readingLagMs?: number;
  positionLagMs?: number;
}

interface TimedPosition {
  positionMm: number;
  atMs: number;
}

/**
 * Readings and positions on their own clocks and rates become samples: each reading gets the position
 * interpolated at its time, once the position after it is known. Its time is that of its arrival less the lag
 * of its source. A reading whose neighbours are too far apart in time is refused and counted, never given a
 * guessed place. Bounded memory; cost per call grows with the logarithm of the positions looked back on.
 */
export class PairByTime {
  #waiting: { readingMm: number; atMs: number }[] = [];
  /** In the order of time, the last at the end; one where there is no lag to look back over. */
  readonly #positions: TimedPosition[] = [];
  #refused = 0;
  readonly #onSample: (sample: Sample) => void;
  readonly #readingLagMs: number;
  readonly #positionLagMs: number;
  readonly #lookBackMs: number;

  constructor(onSample: (sample: Sample) => void, lags: PairingLags = {}) {
    this.#onSample = onSample;
    this.#readingLagMs = withinLongest(lags.readingLagMs ?? 0);
    this.#positionLagMs = withinLongest(lags.positionLagMs ?? 0);
    const behindMs = this.#readingLagMs - this.#positionLagMs;
    this.#lookBackMs = behindMs > 0 ? behindMs + LONGEST_BRACKET_MS : 0;
  }

  /** How many readings got no place. */
  get refused(): number {
    return this.#refused;
  }

  reading(readingMm: number, arrivedAtMs: number): void {
    if (this.#waiting.length >= MOST_WAITING) {
      this.#waiting.shift();
      this.#refused += 1;
    }
    this.#waiting.push({ readingMm, atMs: arrivedAtMs - this.#readingLagMs });
  }

  position(positionMm: number, arrivedAtMs: number): void {
    const atMs = arrivedAtMs - this.#positionLagMs;
    const now = { positionMm, atMs };
    this.#positions.push(now);
    const waiting = this.#waiting;
    this.#waiting = [];
    for (const reading of waiting) {
      if (reading.atMs > atMs) {
        this.#waiting.push(reading);
        continue;
      }
      const bracket = this.#bracketOf(reading.atMs);
      if (bracket === null) {
        this.#refused += 1;
        continue;
      }
      const [before, after] = bracket;
      this.#onSample({
        xMm: between(before.positionMm, after.positionMm, before.atMs, after.atMs, reading.atMs),
        readingMm: reading.readingMm,
        atMs: reading.atMs,
      });
    }
    this.#forget(atMs - this.#lookBackMs);
  }

  /** Drops what has waited too long for a position; to be called now and then, and at the end of a sweep. */
  expire(nowMs: number): void {
    const oldestMs =
      nowMs - LONGEST_BRACKET_MS - Math.max(this.#readingLagMs, this.#positionLagMs, 0);
    const kept = this.#waiting.filter((reading) => reading.atMs >= oldestMs);
    this.#refused += this.#waiting.length - kept.length;
    this.#waiting = kept;
  }

  /** The neighbours of that moment, the last pair that holds it; null: none, or too far apart. */
  #bracketOf(atMs: number): [TimedPosition, TimedPosition] | null {
    const positions = this.#positions;
    let low = 0;
    let high = positions.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (positions[middle]!.atMs <= atMs) low = middle;
      else high = middle - 1;
    }
    // At the time of the newest position the pair that ends there holds it.
    const index = low === positions.length - 1 ? low - 1 : low;
    const before = positions[index];
    const after = positions[index + 1];
    if (!before || !after || before.atMs > atMs || after.atMs < atMs) return null;
    return after.atMs - before.atMs > LONGEST_BRACKET_MS ? null : [before, after];
  }

  /** The newest position older than that is the first that is still needed. */
  #forget(olderThanMs: number): void {
    const positions = this.#positions;
    let gone = Math.max(0, positions.length - MOST_POSITIONS);
    while (gone < positions.length - 1 && positions[gone + 1]!.atMs <= olderThanMs) gone += 1;
    if (gone > 0) positions.splice(0, gone);
  }
}

function withinLongest(lagMs: number): number {
  return Math.min(Math.max(lagMs, -LONGEST_LAG_MS), LONGEST_LAG_MS);
}

function between(fromMm: number, toMm: number, fromMs: number, toMs: number, atMs: number): number {
  if (toMs === fromMs) return toMm;
  return fromMm + ((toMm - fromMm) * (atMs - fromMs)) / (toMs - fromMs);
}
