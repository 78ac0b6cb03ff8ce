/** A rapid traverse of a mill starts within one reading at up to this speed, mm/s; a hand winds half as fast. */
const FASTEST_MM_PER_S = 120;
/** A table gains speed: from one reading to the next no more than so many times as fast as before. */
const MOST_TIMES_AS_FAST = 4;
/** Play, trembling and the gulps that readings come in stay below, mm. */
const SLACK_MM = 1.5;
/** Two readings farther apart in time may lie anywhere: the reader was away, and that is told elsewhere, ms. */
const LONGEST_GAP_MS = 2000;

/** A step in position that no table makes in the time. */
export interface Jump {
  fromMm: number;
  toMm: number;
  withinMs: number;
}

/** Sees a count that was reset, wrapped, lost or read wrongly: the position jumps, the table did not. Pure. */
export class JumpWatch {
  #last: { mm: number; atMs: number } | null = null;
  #mmPerS = 0;

  /** The jump that this position makes; null: none. */
  push(mm: number, atMs: number): Jump | null {
    const before = this.#last;
    this.#last = { mm, atMs };
    if (before === null) return null;
    const withinMs = atMs - before.atMs;
    const stepMm = Math.abs(mm - before.mm);
    const mostMmPerS = Math.max(FASTEST_MM_PER_S, MOST_TIMES_AS_FAST * this.#mmPerS);
    const isJump = withinMs <= LONGEST_GAP_MS && stepMm > SLACK_MM + (mostMmPerS * withinMs) / 1000;
    if (isJump) return { fromMm: before.mm, toMm: mm, withinMs };
    if (withinMs > 0) this.#mmPerS = (stepMm / withinMs) * 1000;
    return null;
  }
}
