/** At most this many messages a second to one screen: one for each frame it can paint. */
export const LEAST_BETWEEN_MESSAGES_MS = 1000 / 60;
/**
 * A message is sent so long before the screen is to begin its next frame: the way there, unpacking, and a timer
 * that is a millisecond late fit in. Measured, p50 / p99 from byte to glass: 4.5 ms before 13 / 36, 6 ms before
 * 14 / 30, 8 ms before 15 / 26.
 */
export const AHEAD_OF_FRAME_MS = 6;
/** More states sent and not yet painted than this, and the screen gets only the latest once it has caught up. */
export const MOST_UNPAINTED = 6;
/**
 * Bytes the socket may hold unsent. Loopback swallowed about 4 MB before this counter moved at all, so it is
 * only the hard stop; what bounds the lag is the acknowledgement above.
 */
export const MOST_BUFFERED_BYTES = 65_536;
/** A visible page that paints nothing for this long is cut; it will connect again. */
export const CUT_AFTER_MS = 5000;

export type Advice = 'send' | 'wait' | 'cut';

/**
 * What one screen has been sent and has painted. Pure bookkeeping: no socket, no clock of its own. A page
 * acknowledges at most ten times a second, six frames at 60/s, which is what MOST_UNPAINTED allows for:
 * so up to twelve may be under way, and a page that keeps up never waits.
 */
export class ClientLag {
  #sent: { sequence: number; atMs: number }[] = [];
  #catchingUp = false;
  #visible = true;
  #lastPaintedAtMs: number;
  /** When the next message is due at sixty a second. */
  #dueAtMs = Number.NEGATIVE_INFINITY;
  /** When the screen began a frame, by the coming of its last acknowledgement; null: it draws none. */
  #frameAtMs: number | null = null;
  #skipped = 0;

  constructor(nowMs: number) {
    this.#lastPaintedAtMs = nowMs;
  }

  /** States not sent because the screen was behind, since the last message. */
  get skipped(): number {
    return this.#skipped;
  }

  advise(nowMs: number, bufferedBytes: number): Advice {
    const oldest = this.#sent[0];
    if (
      this.#visible &&
      oldest &&
      nowMs - Math.max(oldest.atMs, this.#lastPaintedAtMs) > CUT_AFTER_MS
    ) {
      return 'cut';
    }
    if (this.#sent.length >= MOST_UNPAINTED * 2) this.#catchingUp = true;
    if (this.#catchingUp || bufferedBytes > MOST_BUFFERED_BYTES) {
      this.#skipped += 1;
      return 'wait';
    }
    return 'send';
  }

  /**
   * Milliseconds until the next message may go, zero if now. Messages go in step with the screen's frames, just
   * before each: sent at any time they lay half a frame in the page (measured, p50 from byte to glass at 100 readings a
   * second: 17.6 ms, in step 14.0 ms), and of two in one frame one was never seen.
   */
  waitMs(nowMs: number): number {
    return Math.max(0, this.#inStep(this.#dueAtMs) - nowMs);
  }

  sent(sequence: number, nowMs: number): void {
    this.#sent.push({ sequence, atMs: nowMs });
    // Counted on from when it was due where it went a little before: sixty a second are never more.
    this.#dueAtMs = Math.max(nowMs, this.#dueAtMs) + LEAST_BETWEEN_MESSAGES_MS;
    this.#skipped = 0;
  }

  /** Once behind, a screen stays behind until everything under way is painted: newer must not overtake older. */
  painted(sequence: number, visible: boolean, nowMs: number): void {
    this.#visible = visible;
    this.#lastPaintedAtMs = nowMs;
    this.#frameAtMs = visible ? nowMs : null;
    this.#sent = this.#sent.filter((message) => message.sequence > sequence);
    if (this.#sent.length === 0) this.#catchingUp = false;
  }

  /** The time nearest to `atMs`, half a frame away at most, that comes just before a frame of the screen. */
  #inStep(atMs: number): number {
    if (this.#frameAtMs === null || !Number.isFinite(atMs)) return atMs;
    const stepMs = this.#frameAtMs - AHEAD_OF_FRAME_MS;
    const frames = Math.round((atMs - stepMs) / LEAST_BETWEEN_MESSAGES_MS);
    return stepMs + frames * LEAST_BETWEEN_MESSAGES_MS;
  }
}
