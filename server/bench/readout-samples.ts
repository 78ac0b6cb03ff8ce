import type { PassName } from '@taptrue/protocol';
import type { TimedSample } from '../measure/pairing/measure-lag.ts';
import { PairByTime, type PairingLags } from '../measure/pairing/pair-by-time.ts';
import { ThinnedSamples } from '../measure/pairing/thin-samples.ts';
import { PassFollower } from '../measure/sweep/follow-passes.ts';
import type { TakenPass, Taker } from './sample-sources.ts';

/** Indicator and readout stream on their own clocks; a readout that turns round starts the pass back. */
export class ReadoutTaker implements Taker {
  readonly pointsAre = 'bin means';
  readonly #follower = new PassFollower();
  readonly #samples = new ThinnedSamples();
  readonly #pairs: PairByTime;

  constructor(lags: PairingLags = {}) {
    this.#pairs = new PairByTime((sample) => {
      this.#samples.add(sample);
      this.#follower.add(sample.xMm, sample.readingMm);
    }, lags);
  }

  /** In the order of time, thinned where there are many: what lag is measured by. */
  get timed(): readonly TimedSample[] {
    return this.#samples.samples;
  }

  get pass(): PassName {
    return this.#follower.state === 'out' ? 'out' : 'back';
  }

  get samples(): number {
    return this.#follower.samples;
  }

  get pairsRefused(): number {
    return this.#pairs.refused;
  }

  get isComplete(): boolean {
    return this.#follower.state === 'ended';
  }

  indicator(readingMm: number, atMs: number): void {
    this.#pairs.reading(readingMm, atMs);
  }

  readout(xMm: number, atMs: number): void {
    this.#pairs.position(xMm, atMs);
  }

  tick(nowMs: number): void {
    this.#pairs.expire(nowMs);
  }

  passes(): TakenPass[] {
    return this.#follower.passes();
  }
}
