/** A lift is seen from so many digits of the display on, and from this on, mm: flicker stays below. */
const LIFT_DIGITS = 10;
const LIFT_MM = 0.02;
/** Back where it was: within so many digits. */
const BACK_DIGITS = 3;

/**
 * Whether the needle was seen to leave its place and come back since the indicator was last handled: what shows
 * that it lives. A frozen device, or a stylus off the work, reads the straightest line of all. Pure.
 */
export class NeedleSeen {
  #fromMm: number | null = null;
  #isAway = false;
  #seen = false;

  get seen(): boolean {
    return this.#seen;
  }

  /** The indicator was handled: what it showed before proves nothing now. */
  forget(): void {
    this.#fromMm = null;
    this.#isAway = false;
    this.#seen = false;
  }

  /** True where this reading is the first to show it. */
  push(readingMm: number, digitMm: number): boolean {
    this.#fromMm ??= readingMm;
    if (this.#seen) return false;
    const offMm = Math.abs(readingMm - this.#fromMm);
    if (offMm >= Math.max(LIFT_MM, LIFT_DIGITS * digitMm)) this.#isAway = true;
    this.#seen = this.#isAway && offMm <= BACK_DIGITS * digitMm;
    return this.#seen;
  }
}
