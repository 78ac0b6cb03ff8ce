/**
 * Timers on simulated time, put in place of the system's: bytes of minutes are pushed through in seconds, and
 * whatever waits for its next message must wait by the same clock.
 */
export class SimulatedTimers {
  nowMs = 0;
  #due: { atMs: number; run: () => void; id: number }[] = [];
  #count = 0;

  install(): void {
    const setTimer = (run: () => void, ms = 0) => {
      this.#count += 1;
      this.#due.push({ atMs: this.nowMs + ms, run, id: this.#count });
      return this.#count;
    };
    const clearTimer = (id: unknown) => {
      this.#due = this.#due.filter((timer) => timer.id !== id);
    };
    Object.assign(globalThis, { setTimeout: setTimer, clearTimeout: clearTimer });
  }

  advanceTo(ms: number): void {
    this.nowMs = ms;
    if (this.#due.length === 0) return;
    const due = this.#due.filter((timer) => timer.atMs <= ms);
    if (due.length === 0) return;
    this.#due = this.#due.filter((timer) => timer.atMs > ms);
    for (const { run } of due) run();
  }
}
