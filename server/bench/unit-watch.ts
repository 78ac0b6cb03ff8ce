import { type Fault, type LinkName, MM_PER_INCH, type Reading } from '@taptrue/protocol';

/** Below this many digits the rounding of the display hides the ratio: 10 digits make it good to 5 %. */
const LEAST_DIGITS = 10;
/** A needle moves between two readings, too; a switch of unit is 25.4 within this part of it. */
const RATIO_BAND = 0.06;
/** Two readings farther apart may have any ratio. At three a second that is two lost. */
const LONGEST_GAP_MS = 1200;

/**
 * Notices that the unit was switched on a device whose line carries none: from one reading to the next the
 * number is 25.4 times larger or smaller and has another count of decimals. A line that carries its unit is
 * refused by the link already. Pure.
 */
export class UnitWatch {
  readonly #device: LinkName;
  #last: Reading | null = null;
  #fault: Fault | null = null;

  constructor(device: LinkName) {
    this.#device = device;
  }

  reading(reading: Reading): void {
    const before = this.#last;
    this.#last = reading;
    if (before === null || before.decimals === reading.decimals || before.unit !== reading.unit)
      return;
    if (this.#fault !== null) {
      // Switched back: its number is what it was taken for again.
      if (ratioOf(before, reading) !== null) this.#fault = null;
      return;
    }
    const larger = ratioOf(before, reading);
    if (larger === null) return;
    const now = larger ? 'millimetres' : 'inches';
    const expected = larger === (reading.unit === 'in');
    // Read as inches and suddenly 25.4 times larger: it sends millimetres now. The other way alike.
    if (!expected) return;
    this.#fault = {
      code: 'unit-switched',
      what: `The ${this.#device} seems to have been switched to ${now}: its number changed 25.4-fold at once. It is still taken as ${reading.unit === 'in' ? 'inches' : 'millimetres'}.`,
      got: `${before.text}, then ${reading.text}`,
      remedy: `Switch it back, or connect it anew with the unit ${larger ? 'mm' : 'in'}. What was swept across the switch does not hold: sweep again.`,
    };
  }

  faults(): Fault[] {
    return this.#fault === null ? [] : [this.#fault];
  }
}

/** True: 25.4 times larger; false: smaller; null: neither. */
function ratioOf(before: Reading, after: Reading): boolean | null {
  if (before.value === null || after.value === null) return null;
  if (after.atMs - before.atMs > LONGEST_GAP_MS) return null;
  if (before.value * after.value <= 0) return null;
  if (digitsOf(before) < LEAST_DIGITS || digitsOf(after) < LEAST_DIGITS) return null;
  const ratio = after.value / before.value;
  if (Math.abs(ratio / MM_PER_INCH - 1) < RATIO_BAND) return true;
  if (Math.abs(ratio * MM_PER_INCH - 1) < RATIO_BAND) return false;
  return null;
}

function digitsOf({ value, decimals }: Reading): number {
  return Math.abs(value ?? 0) * 10 ** decimals;
}
