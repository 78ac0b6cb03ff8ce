/** One piece that the bytes were cut into. Text is Latin-1: one character per byte, none left out. */
export type Cut =
  /** A whole frame: `body` is what stands between start and line end, `text` has the start with it. */
  | { kind: 'frame'; body: string; text: string }
  /** Something that was not a whole frame. It is counted, and nothing in it is ever read as a number. */
  | { kind: 'dropped'; why: 'partial' | 'too long'; text: string };

/** Where the first byte stands: nobody knows, or the line was seen to be idle and it begins a frame. */
export type BeginsWhere = 'anywhere' | 'between frames';

/**
 * Cuts the bytes of one opened line into whole frames. Holds at most a few times `longestBytes`, whatever
 * arrives. Has no clock: whoever has one says when the line was idle or fell silent.
 */
export interface FrameCutter {
  feed(chunk: Uint8Array): Cut[];
  /** Nothing came for long enough after opening: the next byte begins a frame. */
  lineWasIdle(): void;
  /** Nothing came for long enough to give up on a frame that was begun; what is held is dropped. */
  lineFellSilent(): Cut[];
  /** The line was closed. A tail is never a frame; what is held is dropped. */
  end(): Cut[];
  /** Bytes held that are not yet part of a piece. */
  readonly heldBytes: number;
}

/** What is in a frame without a line end that tells whether it is one. */
export interface FrameProof {
  /** Every place of this body holds what the shape allows there. */
  isWhole(body: string): boolean;
  /** No shifted window over valid frames can be valid: one valid frame is then proof. */
  shiftProof: boolean;
}
