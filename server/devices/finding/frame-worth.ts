import type { LineShape } from '@taptrue/protocol';
import { decodeAxes, type FrameReading } from '../formats/decode-frame.ts';

/** One byte holds eight bits; a frame is worth what its shape leaves no choice in. */
const BITS_PER_BYTE = 8;

/**
 * How much a whole frame says for its shape, in bits: for every byte, of the 256 that could stand there, how
 * few the shape would also have taken. A checksum makes every byte worth eight; a bare number's digit is
 * worth 4.7. So a specific shape outweighs a general one that takes the same line, whatever kinds of
 * fields a shape may have: nothing here knows them. Pure.
 */
export function frameWorthBits(body: string, shape: LineShape): number {
  let bits = endingWorthBits(shape) + (shape.framing.start === undefined ? 0 : BITS_PER_BYTE);
  for (let at = 0; at < body.length; at += 1) {
    bits += BITS_PER_BYTE - Math.log2(takenAt(body, at, shape));
  }
  return bits;
}

function endingWorthBits({ framing }: LineShape): number {
  switch (framing.terminator) {
    case 'no line end':
      return 0;
    case 'any newline':
      return BITS_PER_BYTE - 1;
    default:
      return framing.terminator.length * BITS_PER_BYTE;
  }
}

/** How many of the 256 bytes at this place leave a frame that the shape takes; at least the one that is there. */
function takenAt(body: string, at: number, shape: FrameReading): number {
  const before = body.slice(0, at);
  const after = body.slice(at + 1);
  let taken = 0;
  for (let byte = 0; byte < 256; byte += 1) {
    const other = `${before}${String.fromCharCode(byte)}${after}`;
    if (decodeAxes(other, shape).kind === 'readings') taken += 1;
  }
  return Math.max(taken, 1);
}
