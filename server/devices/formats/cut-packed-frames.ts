import type { Framing } from '@taptrue/protocol';
import type { BeginsWhere, Cut, FrameCutter, FrameProof } from './frame-cutter.ts';

/**
 * Frames of one length with nothing at their end. A frame is believed by what is in it: where no shifted
 * window can be valid, one valid frame is proof. Else, as with a binary count under a checksum (a chance
 * hit is 1 in 256), the beginning counts as found once it is the only place from which two frames in a row
 * are valid; from then on every frame must begin where the one before ended.
 */
export class PackedFrameCutter implements FrameCutter {
  private held = '';
  private stray = '';
  private inStep: boolean;
  private readonly start: string;
  private readonly length: number;

  constructor(
    private readonly framing: Framing,
    begins: BeginsWhere,
    private readonly proof: FrameProof,
  ) {
    if (framing.fixedBytes === undefined) {
      throw new TypeError('a frame without a line end needs a length');
    }
    this.start = framing.start ?? '';
    this.length = this.start.length + framing.fixedBytes;
    this.inStep = begins === 'between frames';
  }

  get heldBytes(): number {
    return this.held.length + this.stray.length;
  }

  feed(chunk: Uint8Array): Cut[] {
    const cuts: Cut[] = [];
    const step = this.framing.longestBytes;
    for (let from = 0; from < chunk.length; from += step) {
      this.held += Buffer.from(chunk.subarray(from, from + step)).toString('latin1');
      while (this.cutOne(cuts));
    }
    return cuts;
  }

  lineWasIdle(): void {
    if (this.heldBytes === 0) this.inStep = true;
  }

  lineFellSilent(): Cut[] {
    const cuts = this.end();
    if (cuts.length > 0) this.inStep = false;
    return cuts;
  }

  end(): Cut[] {
    const text = this.stray + this.held;
    this.stray = '';
    this.held = '';
    return text === '' ? [] : [{ kind: 'dropped', why: 'partial', text }];
  }

  /** Takes one frame or one stretch of stray bytes off what is held; false: more must come first. */
  private cutOne(cuts: Cut[]): boolean {
    const { held, length } = this;
    if (this.inStep || this.proof.shiftProof) {
      const begins = held.slice(0, this.start.length) === this.start.slice(0, held.length);
      if (!begins) return this.outOfStep(cuts);
      if (held.length < length) return false;
      if (!this.isFrameAt(0)) return this.outOfStep(cuts);
      this.take(cuts);
      return true;
    }
    // Every place from which two frames could begin must be seen before one of them is believed.
    if (held.length < 3 * length - 1) return false;
    const places: number[] = [];
    for (let at = 0; at < length; at += 1) {
      if (this.isFrameAt(at) && this.isFrameAt(at + length)) places.push(at);
    }
    const [only] = places;
    this.inStep = only !== undefined && places.length === 1;
    this.putAside(this.inStep ? (only ?? 0) : length, cuts);
    return true;
  }

  private isFrameAt(at: number): boolean {
    if (!this.held.startsWith(this.start, at)) return false;
    return this.proof.isWhole(this.held.slice(at + this.start.length, at + this.length));
  }

  private outOfStep(cuts: Cut[]): boolean {
    if (this.held === '') return false;
    this.inStep = false;
    if (this.proof.shiftProof) this.putAside(1, cuts);
    return true;
  }

  private take(cuts: Cut[]): void {
    if (this.stray !== '') cuts.push({ kind: 'dropped', why: 'partial', text: this.stray });
    this.stray = '';
    const text = this.held.slice(0, this.length);
    cuts.push({ kind: 'frame', body: text.slice(this.start.length), text });
    this.held = this.held.slice(this.length);
  }

  private putAside(bytes: number, cuts: Cut[]): void {
    this.stray += this.held.slice(0, bytes);
    this.held = this.held.slice(bytes);
    const { longestBytes } = this.framing;
    while (this.stray.length > longestBytes) {
      cuts.push({ kind: 'dropped', why: 'too long', text: this.stray.slice(0, longestBytes) });
      this.stray = this.stray.slice(longestBytes);
    }
  }
}
