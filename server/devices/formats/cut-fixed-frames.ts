import type { Framing } from '@taptrue/protocol';
import type { Cut, FrameCutter } from './frame-cutter.ts';

/**
 * Frames known by a start character, a length and a terminator at its place. The bytes between may hold
 * anything. Where the terminator is not at its place the start was not one: one byte on, and looked again.
 */
export class FixedFrameCutter implements FrameCutter {
  private held = '';
  private stray = '';
  private readonly start: string;
  private readonly bodyBytes: number;

  constructor(private readonly framing: Framing) {
    if (framing.start === undefined || framing.fixedBytes === undefined) {
      throw new TypeError('a frame of fixed length needs a start character and a length');
    }
    this.start = framing.start;
    this.bodyBytes = framing.fixedBytes;
  }

  get heldBytes(): number {
    return this.held.length + this.stray.length;
  }

  feed(chunk: Uint8Array): Cut[] {
    const cuts: Cut[] = [];
    const step = this.framing.longestBytes;
    for (let from = 0; from < chunk.length; from += step) {
      this.held += Buffer.from(chunk.subarray(from, from + step)).toString('latin1');
      this.cutHeld(cuts);
    }
    return cuts;
  }

  lineWasIdle(): void {
    // The start character already proves a whole frame.
  }

  lineFellSilent(): Cut[] {
    return this.end();
  }

  end(): Cut[] {
    const text = this.stray + this.held;
    this.stray = '';
    this.held = '';
    return onlyLineEnds(text) ? [] : [{ kind: 'dropped', why: 'partial', text }];
  }

  private cutHeld(cuts: Cut[]): void {
    for (;;) {
      const startsAt = this.held.indexOf(this.start);
      if (startsAt < 0) {
        this.putAside(this.held, cuts);
        this.held = '';
        return;
      }
      this.putAside(this.held.slice(0, startsAt), cuts);
      this.held = this.held.slice(startsAt);
      const frameBytes = 1 + this.bodyBytes;
      const ended = this.terminatorAt(frameBytes);
      if (ended === 'need more') return;
      if (ended === 0) {
        this.putAside(this.held.slice(0, 1), cuts);
        this.held = this.held.slice(1);
        continue;
      }
      this.dropStray(cuts);
      const text = this.held.slice(0, frameBytes);
      cuts.push({ kind: 'frame', body: text.slice(1), text });
      this.held = this.held.slice(frameBytes + ended);
    }
  }

  /** Length of the terminator that stands at `at`; 0 where none does. */
  private terminatorAt(at: number): number | 'need more' {
    const { terminator } = this.framing;
    if (terminator === 'any newline') {
      if (this.held.length <= at) return 'need more';
      return this.held[at] === '\r' || this.held[at] === '\n' ? 1 : 0;
    }
    const there = this.held.slice(at, at + terminator.length);
    if (there === terminator) return terminator.length;
    return terminator.startsWith(there) ? 'need more' : 0;
  }

  private putAside(text: string, cuts: Cut[]): void {
    this.stray += text;
    const { longestBytes } = this.framing;
    while (this.stray.length > longestBytes) {
      cuts.push({ kind: 'dropped', why: 'too long', text: this.stray.slice(0, longestBytes) });
      this.stray = this.stray.slice(longestBytes);
    }
  }

  private dropStray(cuts: Cut[]): void {
    if (!onlyLineEnds(this.stray)) {
      cuts.push({ kind: 'dropped', why: 'partial', text: this.stray });
    }
    this.stray = '';
  }
}

function onlyLineEnds(text: string): boolean {
  for (const character of text) if (character !== '\r' && character !== '\n') return false;
  return true;
}
