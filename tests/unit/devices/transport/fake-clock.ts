import type { Clock } from '@taptrue/server/devices/transport/clock.ts';

/** A clock that stands still until it is moved on; timers run in the order of their time. */
export class FakeClock implements Clock {
  private timeMs = 1000;
  private timers: { atMs: number; run: () => void }[] = [];

  now(): number {
    return this.timeMs;
  }

  setTimeout(run: () => void, ms: number): unknown {
    const timer = { atMs: this.timeMs + ms, run };
    this.timers.push(timer);
    return timer;
  }

  clearTimeout(handle: unknown): void {
    this.timers = this.timers.filter((timer) => timer !== handle);
  }

  get timersSet(): number {
    return this.timers.length;
  }

  advance(ms: number): void {
    const untilMs = this.timeMs + ms;
    for (;;) {
      const next = this.timers
        .filter((timer) => timer.atMs <= untilMs)
        .sort((one, other) => one.atMs - other.atMs)[0];
      if (!next) break;
      this.timers = this.timers.filter((timer) => timer !== next);
      this.timeMs = Math.max(this.timeMs, next.atMs);
      next.run();
    }
    this.timeMs = untilMs;
  }
}
