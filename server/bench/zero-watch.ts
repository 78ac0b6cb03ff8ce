/** A jump to zero from farther than this many counts of the display may be a zero key. */
const JUMP_COUNTS = 8;
/** ...and, where its count is its last digit, from farther than this many digits. */
const JUMP_DIGITS = 20;
/** The first reading after the key trembles already: within two counts of zero, as the noise of a display is. */
const LANDS_WITHIN_COUNTS = 2.5;
/** ...if the needle then stays: a sweep at full feed passes zero, and is this far on at the next reading. */
const STAYS_WITHIN_DIGITS = 6;
const STAYS_WITHIN_COUNTS = 3.5;
/** Readings it must stay for. Three at 3 a second are a second; at 50 a second no hand or mallet is so quick. */
const STAYS_FOR_READINGS = 3;
/** Indicators count by 1, 2, 5 or at most 10 of their last digit; a larger change is a movement. */
const LARGEST_COUNT_DIGITS = 10;

/**
 * Notices that the indicator was zeroed: from one reading to the next it goes from well away to nothing,
 * but for its noise, and stays there. A blow can land there too by chance; a needless notice costs one
 * pivot not learned, a missed one teaches a wrong pivot, so the doubt goes to "zeroed". The count is the
 * smallest change seen: many displays show five decimals of an inch and count by 0.00005.
 */
export class ZeroWatch {
  #lastMm: number | null = null;
  #countMm: number | null = null;
  /** Readings the needle has stayed near zero since a jump to it; null: there was none. */
  #stayed: number | null = null;

  /** True where this reading proves a zeroing. `digitMm` is one step of the last digit shown. */
  push(readingMm: number, digitMm: number): boolean {
    const before = this.#lastMm;
    this.#lastMm = readingMm;
    const countMm = Math.max(digitMm, this.#countMm ?? 0);
    if (before !== null) this.#learnCount(Math.abs(readingMm - before), digitMm);
    const fromMm = Math.max(JUMP_DIGITS * digitMm, JUMP_COUNTS * countMm);
    const lands = Math.abs(readingMm) <= LANDS_WITHIN_COUNTS * countMm;
    if (before !== null && lands && Math.abs(before) > fromMm) {
      this.#stayed = 0;
      return false;
    }
    if (this.#stayed === null) return false;
    const stayMm = Math.max(STAYS_WITHIN_DIGITS * digitMm, STAYS_WITHIN_COUNTS * countMm);
    if (Math.abs(readingMm) > stayMm) {
      this.#stayed = null;
      return false;
    }
    this.#stayed += 1;
    if (this.#stayed < STAYS_FOR_READINGS) return false;
    this.#stayed = null;
    return true;
  }

  #learnCount(changeMm: number, digitMm: number): void {
    if (changeMm < digitMm / 2 || changeMm > (LARGEST_COUNT_DIGITS + 0.5) * digitMm) return;
    this.#countMm = Math.min(this.#countMm ?? changeMm, changeMm);
  }
}
