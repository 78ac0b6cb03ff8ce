import type { TimedSample } from './measure-lag.ts';

/** A minute at 30 a second, without thinning; lag needs far fewer. */
const MOST_SAMPLES = 2048;

/** Samples of a sweep of any length in bounded memory: when full every other one goes, and so on. */
export class ThinnedSamples {
  #kept: TimedSample[] = [];
  #every = 1;
  #count = 0;

  add(sample: TimedSample): void {
    if (this.#count % this.#every === 0) this.#kept.push(sample);
    this.#count += 1;
    if (this.#kept.length < MOST_SAMPLES) return;
    this.#kept = this.#kept.filter((_, index) => index % 2 === 0);
    this.#every *= 2;
  }

  get samples(): readonly TimedSample[] {
    return this.#kept;
  }
}
