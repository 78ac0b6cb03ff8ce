import type { Dice } from './random.ts';

/** How often, per frame, a link spoils what it carries. All 0: a good link. */
export interface Misbehaviour {
  /** The frame is lost. */
  drop: number;
  /** One byte of it comes as another. */
  garble: number;
  /** Only its first part comes. */
  cut: number;
}

export const GOOD_LINK: Misbehaviour = { drop: 0, garble: 0, cut: 0 };

/** The frame with one byte turned into another. */
export function garbled(frame: Uint8Array, dice: Dice): Uint8Array {
  if (frame.length === 0) return frame;
  const spoiled = Uint8Array.from(frame);
  const at = dice.below(frame.length);
  spoiled[at] = (spoiled[at]! ^ (1 + dice.below(255))) & 0xff;
  return spoiled;
}

/** The frame's end, as heard by one who opens the port in the middle of it. */
export function fromMidLine(frame: Uint8Array, dice: Dice): Uint8Array {
  return frame.subarray(Math.min(frame.length, 1 + dice.below(Math.max(frame.length - 1, 1))));
}

/** What of one frame comes through; null: nothing. */
export function spoiled(frame: Uint8Array, how: Misbehaviour, dice: Dice): Uint8Array | null {
  if (dice.happens(how.drop)) return null;
  if (dice.happens(how.garble)) return garbled(frame, dice);
  if (dice.happens(how.cut)) return frame.subarray(0, dice.below(frame.length));
  return frame;
}

/** Bytes cut at random places: a port hands over what it has, not lines. */
export function inPieces(bytes: Uint8Array, dice: Dice): Uint8Array[] {
  const pieces: Uint8Array[] = [];
  for (let at = 0; at < bytes.length; ) {
    const end = Math.min(bytes.length, at + 1 + dice.below(12));
    pieces.push(bytes.subarray(at, end));
    at = end;
  }
  return pieces;
}

/** Level of the line (true: resting) at a time counted in sender's bits, ten bits a byte: start, eight data, stop. */
function levelAt(bytes: Uint8Array, bit: number): boolean {
  const byte = bytes[Math.floor(bit / 10)];
  const place = Math.floor(bit) % 10;
  if (byte === undefined || place === 9) return true;
  if (place === 0) return false;
  return ((byte >> (place - 1)) & 1) === 1;
}

/**
 * What a receiver at another speed makes of these bytes: it waits for a start bit and samples the middle of
 * each of its own bits. A break in the frame (stop bit low) still hands over the byte, as most ports do.
 */
export function atWrongBaud(bytes: Uint8Array, sentBaud: number, heardBaud: number): Uint8Array {
  const bitsPerBit = sentBaud / heardBaud;
  const endBit = bytes.length * 10;
  const heard: number[] = [];
  // Sixteen looks per bit of the faster side, as receivers do.
  const look = Math.min(1, bitsPerBit) / 16;
  let bit = 0;
  while (bit < endBit) {
    if (levelAt(bytes, bit)) {
      bit += look;
      continue;
    }
    let byte = 0;
    for (let place = 0; place < 8; place += 1) {
      if (levelAt(bytes, bit + (1.5 + place) * bitsPerBit)) byte |= 1 << place;
    }
    heard.push(byte);
    bit += 9.5 * bitsPerBit;
  }
  return Uint8Array.from(heard);
}

/** Seven data bits and a parity bit in the eighth, as a port set to eight data bits hears them. */
export function withParityBit(bytes: Uint8Array, parity: 'even' | 'odd'): Uint8Array {
  return bytes.map((byte) => {
    const low = byte & 0x7f;
    let ones = 0;
    for (let place = 0; place < 7; place += 1) ones += (low >> place) & 1;
    return (ones % 2 === 1) === (parity === 'even') ? low | 0x80 : low;
  });
}
