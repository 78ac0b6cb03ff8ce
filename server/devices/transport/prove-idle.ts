import { type Clock, OneTimer } from './clock.ts';

/**
 * A line on which nothing came for this long stands between two frames: longer than one character at
 * 110 baud (100 ms) plus what a USB adapter (16 ms) and this process hold bytes back.
 */
export const IDLE_PROVES_BETWEEN_FRAMES_MS = 250;
/**
 * The wait is taken in steps. After a stall of the process timers run before waiting bytes are read, so
 * one long timer could call a line idle whose bytes had come; every step lets the bytes in first.
 */
const STEPS = 5;

/** Watches a line from its opening on until it is proven idle, or bytes come. */
export class IdleProof {
  private readonly timer: OneTimer;
  private heard = false;

  constructor(clock: Clock) {
    this.timer = new OneTimer(clock);
  }

  /** Calls `done(idle)` once, after the full time: false where bytes came meanwhile. */
  begin(done: (idle: boolean) => void): void {
    this.heard = false;
    this.step(STEPS, done);
  }

  bytesCame(): void {
    this.heard = true;
  }

  stop(): void {
    this.timer.clear();
  }

  private step(left: number, done: (idle: boolean) => void): void {
    if (left === 0) {
      done(!this.heard);
      return;
    }
    this.timer.set(IDLE_PROVES_BETWEEN_FRAMES_MS / STEPS, () => this.step(left - 1, done));
  }
}
