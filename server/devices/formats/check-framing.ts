import type { LineShape } from '@taptrue/protocol';
import type { ShapeFinding } from './shape-finding.ts';
import { isShiftProof, placesOfFrame, splitByte } from './shift-proof.ts';

const finding = (place: string, why: string): ShapeFinding => ({ place, why, got: '' });

/** Whether frames can be told from the bytes around them. */
export function checkFraming(shape: LineShape): ShapeFinding[] {
  const { terminator, record, skip, fixedBytes } = shape.framing;
  const found = terminator === 'no line end' ? checkNoLineEnd(shape) : checkLength(shape);
  if ((record !== undefined || skip !== undefined) && fixedBytes !== undefined) {
    found.push(
      finding('framing', 'framing.record and framing.skip are for lines, not for a fixed length'),
    );
  }
  return found;
}

function checkLength(shape: LineShape): ShapeFinding[] {
  const { start, fixedBytes, terminator, longestBytes } = shape.framing;
  if (fixedBytes === undefined) return [];
  const ending = terminator === 'any newline' ? 1 : terminator.length;
  if (start === undefined) {
    return [finding('framing', 'framing.fixedBytes needs framing.start')];
  }
  if (1 + fixedBytes + ending > longestBytes) {
    return [finding('framing', 'framing.longestBytes is shorter than one frame')];
  }
  return [];
}

/** Nothing marks the end: the length must be known, and a shifted frame must be told from a true one. */
function checkNoLineEnd(shape: LineShape): ShapeFinding[] {
  const { start = '', fixedBytes, longestBytes } = shape.framing;
  const { packed } = shape;
  if (packed === undefined) {
    return [finding('packed', 'a frame without a line end must be packed')];
  }
  if (fixedBytes === undefined) {
    return [finding('framing', 'framing.fixedBytes is missing, and there is no line end')];
  }
  if (start.length + fixedBytes > longestBytes) {
    return [finding('framing', 'framing.longestBytes is shorter than one frame')];
  }
  const places = placesOfFrame(shape);
  if (places === null) {
    return [
      finding('fields', 'every field of a frame without a line end must have one fixed width'),
    ];
  }
  const halves = places.length - 2 * start.length;
  if (halves !== 2 * fixedBytes) {
    return [
      finding(
        'fields',
        `the fields fill ${halves} half bytes, framing.fixedBytes has room for ${2 * fixedBytes}`,
      ),
    ];
  }
  const split = splitByte(shape);
  if (split !== null) {
    return [
      finding(`fields[${split}]`, `fields[${split}] takes whole bytes and begins inside one`),
    ];
  }
  const sums = shape.fields.some((field) => field.kind === 'checksum');
  if (!sums && !isShiftProof(shape)) {
    return [
      finding(
        'fields',
        'nothing tells where a frame begins: give it a start that cannot stand inside, or a checksum',
      ),
    ];
  }
  return [];
}
