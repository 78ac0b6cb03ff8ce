import type { PassName } from '@taptrue/protocol';
import { PairByTime } from '../pairing/pair-by-time.ts';
import { PassFollower } from '../sweep/follow-passes.ts';
import type { TakenPass, Taker } from './takers.ts';

/** Indicator and readout stream on their own clocks; a readout that turns round starts the pass back. */
export class ReadoutTaker implements Taker {
  readonly pointsAre = 'bin means';
  readonly #follower = new PassFollower();
  readonly #pairs = new PairByTime(({ xMm, readingMm }) => this.#follower.add(xMm, readingMm));

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
