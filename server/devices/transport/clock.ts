/** What a timer was set as, to clear it by. */
export type TimerHandle = unknown;

/** Monotonic time and timers, taken as an argument so that a test needs no waiting. */
export interface Clock {
  /** Monotonic, milliseconds. */
  now(): number;
  setTimeout(run: () => void, ms: number): TimerHandle;
  clearTimeout(handle: TimerHandle): void;
}

/** The system's monotonic clock, set forward by a fixed amount: a job taken up again goes on behind its record. */
export function clockFrom(offsetMs: number): Clock {
  return { ...SYSTEM_CLOCK, now: () => performance.now() + offsetMs };
}

export const SYSTEM_CLOCK: Clock = {
  now: () => performance.now(),
  setTimeout: (run, ms) => setTimeout(run, ms),
  clearTimeout: (handle) => clearTimeout(handle as NodeJS.Timeout),
};

/** One timer that is always cleared before it is set: there can never be two of its kind. */
export class OneTimer {
  private handle: TimerHandle = null;

  constructor(private readonly clock: Clock) {}

  get isSet(): boolean {
    return this.handle !== null;
  }

  set(ms: number, run: () => void): void {
    this.clear();
    this.handle = this.clock.setTimeout(() => {
      this.handle = null;
      run();
    }, ms);
  }

  clear(): void {
    if (this.handle !== null) this.clock.clearTimeout(this.handle);
    this.handle = null;
  }
}
