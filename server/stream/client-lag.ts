/** At most this many messages a second to one screen: one for each frame it can paint. */
export const LEAST_BETWEEN_MESSAGES_MS = 1000 / 60;
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
  #lastSentAtMs = Number.NEGATIVE_INFINITY;
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

  /** Milliseconds until the next message may go, zero if now. */
  waitMs(nowMs: number): number {
    return Math.max(0, this.#lastSentAtMs + LEAST_BETWEEN_MESSAGES_MS - nowMs);
  }

  sent(sequence: number, nowMs: number): void {
    this.#sent.push({ sequence, atMs: nowMs });
    this.#lastSentAtMs = nowMs;
    this.#skipped = 0;
  }

  /** Once behind, a screen stays behind until everything under way is painted: newer must not overtake older. */
  painted(sequence: number, visible: boolean, nowMs: number): void {
    this.#visible = visible;
    this.#lastPaintedAtMs = nowMs;
    this.#sent = this.#sent.filter((message) => message.sequence > sequence);
    if (this.#sent.length === 0) this.#catchingUp = false;
  }
}
