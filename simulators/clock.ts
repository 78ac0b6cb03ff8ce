/** Time as the simulators see it; given to them, so that a test moves it by hand. Milliseconds, monotonic. */
export interface SimulatorClock {
  nowMs(): number;
  /** Calls `run` every `periodMs` until the returned function is called. */
  every(periodMs: number, run: () => void): () => void;
}

/** The machine's own clock. Its timers alone never keep the process running. */
export const REAL_CLOCK: SimulatorClock = {
  nowMs: () => performance.now(),
  every(periodMs, run) {
    const timer = setInterval(run, periodMs);
    timer.unref();
    return () => clearInterval(timer);
  },
};

interface Repeating {
  periodMs: number;
  nextMs: number;
  run: () => void;
}

/** A clock that stands still until it is moved; timers run in the order they fall due. */
export class ManualClock implements SimulatorClock {
  #nowMs: number;
  readonly #timers = new Set<Repeating>();

  constructor(startMs = 0) {
    this.#nowMs = startMs;
  }

  nowMs(): number {
    return this.#nowMs;
  }

  every(periodMs: number, run: () => void): () => void {
    const timer = { periodMs, nextMs: this.#nowMs + periodMs, run };
    this.#timers.add(timer);
    return () => this.#timers.delete(timer);
  }

  advance(ms: number): void {
    const endMs = this.#nowMs + ms;
    for (;;) {
      let due: Repeating | undefined;
      for (const timer of this.#timers) {
        if (timer.nextMs <= endMs && (due === undefined || timer.nextMs < due.nextMs)) due = timer;
      }
      if (due === undefined) break;
      this.#nowMs = due.nextMs;
      due.nextMs += due.periodMs;
      due.run();
    }
    this.#nowMs = endMs;
  }
}
