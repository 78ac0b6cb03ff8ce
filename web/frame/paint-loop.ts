import type { Painted } from '@taptrue/protocol';
import type { LatestState } from '../state/latest-state.ts';

/** Draws from the latest state. Called once in every frame; must not measure layout. */
export type Painter = (latest: LatestState, nowMs: number) => void;

/** At most ten acknowledgements a second, as the stream asks. */
export const PAINTED_EVERY_MS = 100;

/**
 * The one animation-frame loop. Messages only overwrite the latest state; whatever moves on the glass moves
 * here, so 2,000 messages in a second are 60 drawings. A hidden tab gets no frames at all: nothing waits in
 * it, and its first frame on return draws the latest.
 */
export class PaintLoop {
  private readonly painters = new Set<Painter>();
  private readonly latest: LatestState;
  private readonly sendPainted: (painted: Painted) => void;
  private frame: number | null = null;
  private drawnSequence: number | null = null;
  private sentSequence: number | null = null;
  private sentAtMs = Number.NEGATIVE_INFINITY;

  constructor(latest: LatestState, sendPainted: (painted: Painted) => void) {
    this.latest = latest;
    this.sendPainted = sendPainted;
  }

  /** Adds a painter and returns what takes it away again. */
  add(painter: Painter): () => void {
    this.painters.add(painter);
    return () => this.painters.delete(painter);
  }

  start(): void {
    if (this.frame !== null) return;
    document.addEventListener('visibilitychange', this.onVisibility);
    this.frame = requestAnimationFrame(this.paint);
  }

  stop(): void {
    if (this.frame !== null) cancelAnimationFrame(this.frame);
    this.frame = null;
    document.removeEventListener('visibilitychange', this.onVisibility);
  }

  private readonly paint = (nowMs: number): void => {
    this.frame = requestAnimationFrame(this.paint);
    this.acknowledge(nowMs);
    for (const painter of this.painters) painter(this.latest, nowMs);
    this.drawnSequence = this.latest.state === null ? null : this.latest.sequence;
  };

  /** Tells the state drawn in the frame before: that one has reached the glass, this one has not yet. */
  private acknowledge(nowMs: number): void {
    if (this.drawnSequence === null || this.drawnSequence === this.sentSequence) return;
    if (nowMs - this.sentAtMs < PAINTED_EVERY_MS) return;
    this.sentAtMs = nowMs;
    this.sentSequence = this.drawnSequence;
    this.sendPainted({ type: 'painted', sequence: this.drawnSequence, visible: true });
  }

  /** A hidden page paints nothing and must say so, or the service would take it for a stalled one. */
  private readonly onVisibility = (): void => {
    if (this.drawnSequence === null) return;
    this.sentSequence = null;
    this.sendPainted({
      type: 'painted',
      sequence: this.drawnSequence,
      visible: document.visibilityState === 'visible',
    });
  };
}
