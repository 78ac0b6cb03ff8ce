/** So many readings in a row with one count of decimals are a way of sending, not a zero left out. */
const STEADY_READINGS = 10;

/**
 * Sees that a bare number goes over to another count of decimals and stays there, as it does where the unit is
 * switched; near zero its size tells nothing of that. Pure.
 */
export class DigitsWatch {
  #steady: number | null = null;
  #decimals: number | null = null;
  #times = 0;

  /** True where this reading shows it. */
  push(decimals: number): boolean {
    this.#times = decimals === this.#decimals ? this.#times + 1 : 1;
    this.#decimals = decimals;
    if (this.#times < STEADY_READINGS) return false;
    const before = this.#steady;
    this.#steady = decimals;
    return before !== null && before !== decimals;
  }
}
