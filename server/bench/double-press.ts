import type { Fault, LengthUnit } from '@taptrue/protocol';
import type { Measuring } from './measuring.ts';
import { pressedTwice, samePlaceTwice, sameReadingSoon } from './refusals.ts';

/** A foot switch bounces and a finger doubles within this; no hand moves a table to the next station so soon, ms. */
const SAME_PRESS_MS = 300;
/** Up to here an unchanged reading may be the same press or a quick hand: it is asked, ms. */
const DOUBTFUL_PRESS_MS = 700;
/** A readout that moved less than this since the station before stands at the same place, mm. */
const SAME_PLACE_MM = 0.5;

/** A press that takes a station. */
export interface Press {
  atMs: number;
  readingMm: number;
  /** What a live readout shows, mm; null: there is none. */
  countMm: number | null;
}

/** Keeps one press from taking two stations. */
export class DoublePress {
  #before: Press | null = null;
  #dropped = 0;

  /** No station was taken yet, or the last was struck out. */
  forget(): void {
    this.#before = null;
  }

  /** A new sweep. */
  begin(): void {
    this.#before = null;
    this.#dropped = 0;
  }

  /** What speaks against a station by this press; null: nothing, and the next is held against it. */
  press(measuring: Measuring, readingMm: number, atMs: number): Fault | null {
    const readout = measuring.fromDevice('readout', atMs);
    const press = { atMs, readingMm, countMm: readout.ok ? readout.mm : null };
    const fault = this.#doubt(press, measuring.displayUnit);
    if (!fault) this.#before = press;
    return fault;
  }

  /** Refused where this is the press before once more; null: it takes a station. */
  #doubt(press: Press, unit: LengthUnit): Fault | null {
    const before = this.#before;
    if (before === null) return null;
    if (press.countMm !== null && before.countMm !== null) {
      const movedMm = Math.abs(press.countMm - before.countMm);
      return movedMm < SAME_PLACE_MM ? samePlaceTwice(movedMm, unit) : null;
    }
    const afterMs = press.atMs - before.atMs;
    if (afterMs < SAME_PRESS_MS) {
      this.#dropped += 1;
      return pressedTwice(afterMs, this.#dropped);
    }
    const isUnchanged = press.readingMm === before.readingMm;
    return afterMs < DOUBTFUL_PRESS_MS && isUnchanged ? sameReadingSoon(afterMs) : null;
  }
}
