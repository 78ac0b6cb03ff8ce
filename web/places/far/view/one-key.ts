/** Edges nearer than this to the last one are the switch bouncing (worn foot switches: up to 300 ms). */
export const BOUNCE_MS = 300;
/** Held this long, the key goes back one step. */
export const LONG_PRESS_MS = 900;

const ONWARD: ReadonlySet<string> = new Set([' ', 'Enter', 'PageDown', 'ArrowRight', 'ArrowDown']);
const BACKWARD: ReadonlySet<string> = new Set(['PageUp', 'ArrowLeft', 'ArrowUp']);

export type KeyMeans = 'next' | 'back' | null;

/** One switch, or one key of many: tells a press from its bounce, from autorepeat and from a long press. Bounded. Pure. */
export class OneKey {
  #downKey = '';
  #downAtMs = 0;
  #lastEdgeAtMs = Number.NEGATIVE_INFINITY;

  static takes(key: string): boolean {
    return ONWARD.has(key) || BACKWARD.has(key);
  }

  /** A key goes down. Nothing is done before it comes up: only then is it known how long it was held. */
  down(key: string, isRepeat: boolean, atMs: number): void {
    const isBounce = atMs - this.#lastEdgeAtMs < BOUNCE_MS;
    this.#lastEdgeAtMs = atMs;
    // A second down without an up is autorepeat, whether or not the switch says so.
    if (isRepeat || isBounce || this.#downKey !== '') return;
    this.#downKey = key;
    this.#downAtMs = atMs;
  }

  /** It comes up: what was meant. */
  up(key: string, atMs: number): KeyMeans {
    this.#lastEdgeAtMs = atMs;
    if (key !== this.#downKey) return null;
    this.#downKey = '';
    if (BACKWARD.has(key)) return 'back';
    return atMs - this.#downAtMs >= LONG_PRESS_MS ? 'back' : 'next';
  }

  /** A pointer's click; false: it came with a press already heard. */
  click(atMs: number): boolean {
    const isBounce = atMs - this.#lastEdgeAtMs < BOUNCE_MS;
    this.#lastEdgeAtMs = atMs;
    return !isBounce;
  }

  /** The window lost the keyboard: the up will never come. */
  letGo(): void {
    this.#downKey = '';
  }
}
