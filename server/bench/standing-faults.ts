import type { Fault, FaultsSection, StandingFault } from '@taptrue/protocol';

/** Faults shown at once; the oldest makes room, all of them are on the record. */
const MOST_STANDING = 20;

/** What a parking came to doubt by; a new sweep is what each of them asks for. */
export const SETTLED_BY_A_SWEEP = [
  'moved-while-parked',
  'zeroed-or-tapped',
  'jumped-while-parked',
] as const;

/** What the user must know and has not read yet. One row per code and part of the bench, with a count. */
export class StandingFaults {
  #rows: StandingFault[] = [];

  raise(from: string, fault: Fault): void {
    const same = this.#rows.findIndex((row) => row.code === fault.code && row.from === from);
    const times = same === -1 ? 1 : this.#rows[same]!.times + 1;
    if (same !== -1) this.#rows.splice(same, 1);
    this.#rows.push({ ...fault, from, times });
    if (this.#rows.length > MOST_STANDING) this.#rows.shift();
  }

  /** False where no such fault stands. */
  clear(code: string): boolean {
    const before = this.#rows.length;
    this.#rows = this.#rows.filter((row) => row.code !== code);
    return this.#rows.length < before;
  }

  section(): FaultsSection {
    return { standing: this.#rows.map((row) => ({ ...row })) };
  }
}
