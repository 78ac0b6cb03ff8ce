import type { PassName, Setup } from '@taptrue/protocol';
import { type BinnedPoint, PositionBins } from '../measure/sweep/bins.ts';
import type { TakenPass, Taker } from './sample-sources.ts';

/** Bins in time, ms: at the slowest useful feed, 25 mm/min, 20 ms are under a hundredth of a millimetre. */
const FIRST_TIME_STEP_MS = 20;
/** A feed that runs for longer than this was forgotten: 5 in at 1 in/min take five minutes. */
const LONGEST_FEED_MS = 900_000;

/** Bins take positions up to 10,000; in steps of 0.1 s that is 1,000 s, more than the longest feed. */
const MS_PER_BIN_UNIT = 100;

interface Leg {
  startedAtMs: number;
  /** null while it runs. */
  stoppedAtMs: number | null;
  byTime: PositionBins;
}

/**
 * Constant feed between two marks: positions follow from time. Readings are gathered in equal steps of time,
 * which at constant feed are equal steps of position; where the distance alone is known they get their
 * places when the last mark is set.
 */
export class FeedTaker implements Taker {
  readonly pointsAre = 'bin means';
  readonly #feed: Setup['feed'];
  readonly #backPass: boolean;
  readonly #legs: Leg[] = [];
  #pairsRefused = 0;
  #lastReadingAtMs = Number.NEGATIVE_INFINITY;

  constructor(feed: Setup['feed'], backPass: boolean) {
    this.#feed = feed;
    this.#backPass = backPass;
  }

  get isRunning(): boolean {
    return this.#legs.some((leg) => leg.stoppedAtMs === null);
  }

  get pass(): PassName {
    return this.#legs.length > 1 ? 'back' : 'out';
  }

  /** The shortest time from mark to mark, ms; null: none is over. */
  get tookMs(): number | null {
    const took = this.#legs
      .filter((leg) => leg.stoppedAtMs !== null)
      .map((leg) => leg.stoppedAtMs! - leg.startedAtMs);
    return took.length === 0 ? null : Math.min(...took);
  }

  get samples(): number {
    return this.#legs.reduce((sum, leg) => sum + leg.byTime.samples, 0);
  }

  get pairsRefused(): number {
    return this.#pairsRefused;
  }

  get isComplete(): boolean {
    return this.#legs.length === (this.#backPass ? 2 : 1) && !this.isRunning;
  }

  /** The stylus passes the first mark; false where a leg runs already or all are done. */
  start(atMs: number): boolean {
    if (this.isRunning || this.isComplete) return false;
    this.#legs.push({
      startedAtMs: atMs,
      stoppedAtMs: null,
      byTime: new PositionBins({ firstStepMm: FIRST_TIME_STEP_MS / MS_PER_BIN_UNIT }),
    });
    return true;
  }

  /** The stylus passes the last mark; false where none runs. */
  stop(atMs: number): boolean {
    const running = this.#legs.find((leg) => leg.stoppedAtMs === null);
    if (!running || atMs <= running.startedAtMs) return false;
    running.stoppedAtMs = atMs;
    return true;
  }

  indicator(readingMm: number, atMs: number): void {
    const running = this.#legs.find((leg) => leg.stoppedAtMs === null);
    if (!running) return;
    this.#lastReadingAtMs = atMs;
    const sinceMs = atMs - running.startedAtMs;
    if (sinceMs < 0 || !running.byTime.add(sinceMs / MS_PER_BIN_UNIT, readingMm)) {
      this.#pairsRefused += 1;
    }
  }

  readout(): void {}

  /** With a feed rate the last mark follows from the distance; a forgotten feed is stopped at its last reading. */
  tick(nowMs: number): void {
    const running = this.#legs.find((leg) => leg.stoppedAtMs === null);
    if (!running) return;
    const takesMs = this.#takesMs();
    if (takesMs !== null && nowMs - running.startedAtMs >= takesMs) {
      running.stoppedAtMs = running.startedAtMs + takesMs;
    } else if (nowMs - running.startedAtMs > LONGEST_FEED_MS) {
      running.stoppedAtMs = Math.max(this.#lastReadingAtMs, running.startedAtMs + 1);
    }
  }

  passes(): TakenPass[] {
    return this.#legs.flatMap((leg, index): TakenPass[] => {
      const takesMs = this.#takesMs() ?? (leg.stoppedAtMs ?? Number.NaN) - leg.startedAtMs;
      if (Number.isNaN(takesMs)) return [];
      const points = leg.byTime
        .points()
        .map((point) => this.#placed(point, takesMs, index === 1))
        .filter((point) => point !== null);
      return points.length === 0 ? [] : [{ pass: index === 0 ? 'out' : 'back', points }];
    });
  }

  #takesMs(): number | null {
    const { distanceMm, mmPerMin } = this.#feed;
    return mmPerMin === null ? null : (distanceMm / mmPerMin) * 60_000;
  }

  #placed(point: BinnedPoint, takesMs: number, isBack: boolean): BinnedPoint | null {
    const { startsAt, distanceMm } = this.#feed;
    const share = (point.xMm * MS_PER_BIN_UNIT) / takesMs;
    // A reading that came in the same gulp as the mark may lie a hair beyond it; farther it has no place.
    if (share > 1.005) return null;
    const goesRight = (startsAt === 'left') !== isBack;
    return { ...point, xMm: (goesRight ? share : 1 - share) * distanceMm };
  }
}
