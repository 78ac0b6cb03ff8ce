/** A jump to exactly zero from farther than this many digits of the display is a zero key, not a tap. */
const JUMP_DIGITS = 20;

/**
 * Notices that the indicator was zeroed: from one reading to the next it goes from well away to exactly
 * nothing. A blow can land there too by chance; a needless notice costs one pivot not learned, a missed one
 * teaches a wrong pivot, so the doubt goes to "zeroed".
 */
export class ZeroWatch {
  #lastMm: number | null = null;

  /** True where this reading shows a zeroing. `digitMm` is one step of the last digit shown. */
  push(readingMm: number, digitMm: number): boolean {
    const before = this.#lastMm;
    this.#lastMm = readingMm;
    return before !== null && readingMm === 0 && Math.abs(before) > JUMP_DIGITS * digitMm;
  }
}
