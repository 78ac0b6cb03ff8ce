import type { Fault, LinkName, LinkReport, Setup } from '@taptrue/protocol';
import { doubtOf } from './doubt-keyed.ts';
import { type GoodKeyed, readKeyed } from './keyed-reading.ts';
import { LatestReadings } from './latest-readings.ts';
import { readLead } from './lead-reading.ts';
import { NeedleSeen } from './needle-seen.ts';

export type Measured = { ok: true; mm: number } | { ok: false; fault: Fault };

/** A reading as a command brings it; `keyed` left out: the device's. */
export interface TypedIn {
  keyed?: string;
  /** An indicator lead typed it. */
  lead?: boolean;
  /** Taken though it was doubted. */
  sure?: boolean;
}

const KEY_NOT_PRESSED: Measured = {
  ok: false,
  fault: {
    code: 'no-fresh-reading',
    what: 'There is no fresh reading of the indicator. Nothing was taken.',
    got: 'its key was not pressed since the station before',
    remedy: 'Press the key on the indicator: that takes the station. Or key the reading in.',
  },
};

/** One reading to measure with: typed where it was typed, else the device's latest if it is fresh. */
export class Measuring {
  readonly latest = new LatestReadings();
  readonly needle = new NeedleSeen();
  readonly #setup: () => Setup;
  readonly #report: (link: LinkName) => LinkReport;
  #keyedDigitMm: number | null = null;
  #lastKeyed: GoodKeyed | null = null;

  constructor(setup: () => Setup, report: (link: LinkName) => LinkReport) {
    this.#setup = setup;
    this.#report = report;
  }

  get displayUnit(): Setup['displayUnit'] {
    return this.#setup().displayUnit;
  }

  /** One step of the last digit shown, by the finest of what was typed or by the device's last reading, mm. */
  get digitMm(): number | null {
    const { entry, way } = this.#setup();
    return entry === 'keyed' && way === 'stations' ? this.#keyedDigitMm : this.latest.digitMm;
  }

  /** A new sweep may be typed with other digits. */
  forgetTyping(): void {
    this.#keyedDigitMm = null;
    this.#lastKeyed = null;
  }

  /** The last typed reading was struck out, or the zero was moved: the next is not held against it. */
  compareWithNone(): void {
    this.#lastKeyed = null;
  }

  /** True where this reading of the device is the first to show that the needle lives. */
  isNeedleSeenFirst(valueMm: number): boolean {
    return this.needle.push(valueMm, this.latest.digitMm ?? 0);
  }

  /** @param pressedAfterMs an indicator with a key of its own must have been pressed after this. */
  indicator({ keyed, lead, sure }: TypedIn, nowMs: number, pressedAfterMs?: number): Measured {
    if (keyed === undefined) {
      const isOld = pressedAfterMs !== undefined && !this.#pressedAfter(pressedAfterMs);
      return isOld ? KEY_NOT_PRESSED : this.fromDevice('indicator', nowMs);
    }
    const setup = this.#setup();
    const read = lead ? readLead(keyed, setup) : readKeyed(keyed, setup.keyedAs);
    if (!read.ok) return read;
    const byHand = setup.keyedAs.kind === 'length' ? 'hand, lengths' : 'hand, shorthand';
    const typed = { keyed, by: lead ? 'lead' : byHand } as const;
    const fault = doubtOf(read, typed, this.#lastKeyed, setup.displayUnit);
    if (fault && !sure) return { ok: false, fault };
    this.#lastKeyed = read;
    this.#keyedDigitMm = Math.min(this.#keyedDigitMm ?? Number.POSITIVE_INFINITY, read.digitMm);
    return { ok: true, mm: read.readingMm };
  }

  /** True of a stream, too: its readings are judged by their age alone. */
  #pressedAfter(ms: number): boolean {
    if (this.#report('indicator').trigger !== 'its own key') return true;
    const reading = this.latest.of('indicator');
    return reading === null || reading.atMs > ms;
  }

  fromDevice(link: LinkName, nowMs: number): Measured {
    const usable = this.latest.usable(link, this.#report(link), nowMs);
    if (usable.ok) return usable;
    return {
      ok: false,
      fault: {
        code: 'no-fresh-reading',
        what: `There is no fresh reading of the ${link}. Nothing was taken.`,
        got: usable.why,
        remedy: 'Check it under Devices, or key the reading in.',
      },
    };
  }
}
