import type { TimingSection } from '@taptrue/protocol';
import { type Lag, measureLag, type TimedSample } from '../measure/pairing/measure-lag.ts';

/** A slow and a fast sweep tell lag from play; two more make up for one that was spoilt. */
const SWEEPS_KEPT = 4;
/** 95 %, with as many readings as a sweep has. */
const EXPANDED = 2;

/** Sweeps out and back, kept until two of different speed tell how late the indicator is heard. Pure. */
export class LagWatch {
  #sweeps: { samples: readonly TimedSample[]; pairedWithLagMs: number }[] = [];
  #section: TimingSection = { measured: null, whyNot: '' };

  get section(): TimingSection {
    return this.#section;
  }

  /** The edge lies otherwise, or the dial has another zero: what was swept before is of another line. */
  begin(): void {
    this.#sweeps = [];
  }

  /** `pairedWithLagMs`: what was already taken off when its readings were given their places. */
  sweepEnded(samples: readonly TimedSample[], pairedWithLagMs: number): TimingSection {
    if (this.#sweeps.at(-1)?.pairedWithLagMs !== pairedWithLagMs) this.#sweeps = [];
    this.#sweeps.push({ samples, pairedWithLagMs });
    if (this.#sweeps.length > SWEEPS_KEPT) this.#sweeps.shift();
    const outcome = measureLag(this.#sweeps.map((sweep) => sweep.samples));
    if (outcome.ok) {
      this.#section = { measured: measuredOf(outcome.lag, pairedWithLagMs), whyNot: '' };
    } else {
      const { what, remedy } = outcome.fault;
      this.#section = { ...this.#section, whyNot: `${what} ${remedy}` };
    }
    return this.#section;
  }
}

function measuredOf(lag: Lag, pairedWithLagMs: number): TimingSection['measured'] {
  return {
    lagMs: lag.lagMs + pairedWithLagMs,
    uncertaintyMs: EXPANDED * lag.lagStandardErrorMs,
    playMm: lag.playMm,
    playUncertaintyMm: EXPANDED * lag.playStandardErrorMm,
    slowestMmPerS: lag.slowestMmPerS,
    fastestMmPerS: lag.fastestMmPerS,
  };
}
