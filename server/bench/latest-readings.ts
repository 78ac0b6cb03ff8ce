import { isUsable, type LinkName, type LinkReport, type Reading, toMm } from '@taptrue/protocol';

/** A needle older than this is not live (a screen that lags further misleads the hand)... */
const STALE_AFTER_MS = 250;
/** ...but an indicator that sends three a second is not stale between two of them: half an interval of grace. */
const STALE_AFTER_INTERVALS = 1.5;
/** Whatever the rate, a second without a reading is a silent device. */
const STALE_AT_MOST_MS = 1000;

/** The last reading of each device, and how old it may be to be measured with. */
export class LatestReadings {
  #last: Record<LinkName, Reading | null> = { indicator: null, readout: null };
  /** Of the readout's other axis, where it is listened to. */
  otherAxis: Reading | null = null;

  note(link: LinkName, reading: Reading): void {
    this.#last[link] = reading;
  }

  forget(link: LinkName): void {
    this.#last[link] = null;
    if (link === 'readout') this.otherAxis = null;
  }

  of(link: LinkName): Reading | null {
    return this.#last[link];
  }

  /** One step of the last digit the indicator shows, mm; null before its first reading. */
  get digitMm(): number | null {
    const reading = this.#last.indicator;
    return reading ? toMm(10 ** -reading.decimals, reading.unit) : null;
  }

  /** The number to measure with now, mm; or why there is none. */
  usable(
    link: LinkName,
    report: LinkReport,
    nowMs: number,
  ): { ok: true; mm: number } | { ok: false; why: string } {
    const reading = this.#last[link];
    if (reading === null) return { ok: false, why: `the ${link} is ${report.state}` };
    if (!isUsable(reading))
      return { ok: false, why: `the ${link} says ${reading.status}: ${reading.text}` };
    const ageMs = nowMs - reading.atMs;
    if (report.trigger !== 'its own key' && ageMs > staleAfterMs(report)) {
      return {
        ok: false,
        why: `the last reading of the ${link} is ${(ageMs / 1000).toFixed(1)} s old`,
      };
    }
    return { ok: true, mm: reading.valueMm };
  }
}

/** Older than this, a reading of this link is not live, ms. */
export function staleAfterMs(report: LinkReport): number {
  const rate = report.readingsPerSecond;
  if (rate <= 0) return STALE_AFTER_MS;
  const graceMs = (STALE_AFTER_INTERVALS * 1000) / rate;
  return Math.min(STALE_AT_MOST_MS, Math.max(STALE_AFTER_MS, graceMs));
}
