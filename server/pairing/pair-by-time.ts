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

/**
 * Readings and positions on their own clocks and rates become samples: each reading gets the position
 * interpolated at its time of arrival, once the position after it is known. A reading whose neighbours are
 * too far apart in time is refused and counted, never given a guessed place. Constant cost per call on
 * average, bounded memory.
 */
export class PairByTime {
  #waiting: { readingMm: number; atMs: number }[] = [];
  #last: { positionMm: number; atMs: number } | null = null;
  #refused = 0;
  readonly #onSample: (sample: Sample) => void;

  constructor(onSample: (sample: Sample) => void) {
    this.#onSample = onSample;
  }

  /** How many readings got no place. */
  get refused(): number {
    return this.#refused;
  }

  reading(readingMm: number, atMs: number): void {
    if (this.#waiting.length >= MOST_WAITING) {
      this.#waiting.shift();
      this.#refused += 1;
    }
    this.#waiting.push({ readingMm, atMs });
  }

  position(positionMm: number, atMs: number): void {
    const before = this.#last;
    this.#last = { positionMm, atMs };
    const waiting = this.#waiting;
    this.#waiting = [];
    for (const reading of waiting) {
      if (reading.atMs > atMs) {
        this.#waiting.push(reading);
      } else if (
        before === null ||
        reading.atMs < before.atMs ||
        atMs - before.atMs > LONGEST_BRACKET_MS
      ) {
        this.#refused += 1;
      } else {
        this.#onSample({
          xMm: between(before.positionMm, positionMm, before.atMs, atMs, reading.atMs),
          readingMm: reading.readingMm,
          atMs: reading.atMs,
        });
      }
    }
  }

  /** Drops what has waited too long for a position; to be called now and then, and at the end of a sweep. */
  expire(nowMs: number): void {
    const kept = this.#waiting.filter((reading) => nowMs - reading.atMs <= LONGEST_BRACKET_MS);
    this.#refused += this.#waiting.length - kept.length;
    this.#waiting = kept;
  }
}

function between(fromMm: number, toMm: number, fromMs: number, toMs: number, atMs: number): number {
  if (toMs === fromMs) return toMm;
  return fromMm + ((toMm - fromMm) * (atMs - fromMs)) / (toMs - fromMs);
}
