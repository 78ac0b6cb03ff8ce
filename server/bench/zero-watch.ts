/** A jump to zero from farther than this many digits of the display may be a zero key. */
const JUMP_DIGITS = 20;
/** The first reading after the key already trembles: within two digits of zero, as the noise of a display is. */
const LANDS_WITHIN_DIGITS = 2.5;
/** ...if the needle then stays: a sweep at full feed passes zero, and is this far on at the next reading. */
const STAYS_WITHIN_DIGITS = 6;
/** Readings it must stay for. Three at 3 a second are a second; at 50 a second no hand or mallet is so quick. */
const STAYS_FOR_READINGS = 3;

/**
 * Notices that the indicator was zeroed: from one reading to the next it goes from well away to nothing,
 * but for its noise, and stays there. A blow can land there too by chance; a needless notice costs one pivot not
 * learned, a missed one teaches a wrong pivot, so the doubt goes to "zeroed".
 */
export class ZeroWatch {
  #lastMm: number | null = null;
  /** Readings the needle has stayed near zero since a jump to it; null: there was none. */
  #stayed: number | null = null;

  /** True where this reading proves a zeroing. `digitMm` is one step of the last digit shown. */
  push(readingMm: number, digitMm: number): boolean {
    const before = this.#lastMm;
    this.#lastMm = readingMm;
    const lands = Math.abs(readingMm) <= LANDS_WITHIN_DIGITS * digitMm;
    if (before !== null && lands && Math.abs(before) > JUMP_DIGITS * digitMm) {
      this.#stayed = 0;
      return false;
    }
    if (this.#stayed === null) return false;
    if (Math.abs(readingMm) > STAYS_WITHIN_DIGITS * digitMm) {
      this.#stayed = null;
      return false;
    }
    this.#stayed += 1;
    if (this.#stayed < STAYS_FOR_READINGS) return false;
    this.#stayed = null;
    return true;
  }
}
