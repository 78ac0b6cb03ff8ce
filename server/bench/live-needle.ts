import { isUsable } from '@taptrue/protocol';
import type { DeskContext } from './desk.ts';
import { type LatestReadings, staleAfterMs } from './latest-readings.ts';

/** The age of a stale needle is told once a second. */
const TELL_STALE_EVERY_MS = 1000;
/** A reading older than any device's interval. */
const STALE_TOLD_FROM_MS = 1000;

/** What the devices show now, as the screens have it. */
export class LiveNeedle {
  readonly #context: DeskContext;
  readonly #latest: LatestReadings;
  #staleToldAtMs = Number.NEGATIVE_INFINITY;

  constructor(context: DeskContext, latest: LatestReadings) {
    this.#context = context;
    this.#latest = latest;
  }

  /** Where on the work the stylus stands when the readout shows this. */
  xOf(countMm: number): number {
    const { counts, leftEndCountMm } = this.#context.setup;
    return (counts ?? 1) * (countMm - leftEndCountMm);
  }

  tell(nowMs: number): void {
    const indicator = this.#latest.of('indicator');
    const readout = this.#latest.of('readout');
    this.#context.store.set('live', {
      indicator,
      readout,
      second: this.#latest.otherAxis,
      ageMs: indicator ? Math.max(0, nowMs - indicator.atMs) : null,
      staleAfterMs: staleAfterMs(this.#context.report('indicator')),
      xMm:
        readout && isUsable(readout) && this.#context.setup.counts !== null
          ? this.xOf(readout.valueMm)
          : null,
    });
  }

  /** To be called often: tells the age of a needle that nothing more comes from. */
  tick(nowMs: number): void {
    const indicator = this.#latest.of('indicator');
    if (!indicator || nowMs - indicator.atMs < STALE_TOLD_FROM_MS) return;
    if (nowMs - this.#staleToldAtMs < TELL_STALE_EVERY_MS) return;
    this.#staleToldAtMs = nowMs;
    this.tell(nowMs);
  }
}
