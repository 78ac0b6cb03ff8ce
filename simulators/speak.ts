import type { LineShape, ReadingStatus, ShapeField } from '@taptrue/protocol';
import { decimalsSaid, padded, pieceText, specialText } from './speak-fields.ts';
import { checksumSaid, packedBytes } from './speak-packed.ts';
import { keyFor, mustHave, type PartSaid, Unsayable, type Utterance } from './utterance.ts';

export type { Utterance } from './utterance.ts';

export type Spoken = { ok: true; bytes: Uint8Array } | { ok: false; why: string };

/** The fields of each axis of the frame, in their order. */
function axesOf(fields: readonly ShapeField[]): ShapeField[][] {
  const axes: ShapeField[][] = [[]];
  for (const field of fields) {
    if (field.kind === 'next axis') axes.push([]);
    else axes.at(-1)!.push(field);
  }
  return axes;
}

/** The tag of an axis: its fixed one, or of those it allows the one that is asked for. */
function tagOf(fields: readonly ShapeField[], asked: string | null): string | null {
  for (const field of fields) {
    if (field.kind === 'channel is') return field.channel;
    if (field.kind !== 'channel') continue;
    return asked !== null && field.allowed.includes(asked) ? asked : (field.allowed[0] ?? null);
  }
  return null;
}

/** What each axis says: the one that is asked for the value, the others theirs. */
function partsOf(shape: LineShape, said: Utterance): PartSaid[] {
  const axes = axesOf(shape.fields);
  if (axes.length === 1) return [partOf(axes[0]!, said)];
  const tags = axes.map((fields) => tagOf(fields, said.channel));
  const meant = said.channel === null ? 0 : tags.indexOf(said.channel);
  if (meant < 0) mustHave(undefined, `${said.channel}`);
  return axes.map((fields, index) => {
    const channel = tags[index] ?? null;
    if (index === meant) return partOf(fields, { ...said, channel });
    const other = said.others?.[channel ?? ''];
    return partOf(fields, { ...said, channel, value: other === undefined ? 0 : other });
  });
}

function partOf(fields: readonly ShapeField[], said: Utterance): PartSaid {
  const decimals = decimalsSaid(fields, said);
  const saysHalves = fields.some(
    (field) => field.kind === 'flags' && field.bits.some(({ set }) => set === 'half digit'),
  );
  const halves =
    saysHalves && said.unit === 'in'
      ? Math.round(Math.abs(said.value ?? 0) * 2 * 10 ** decimals)
      : null;
  const value =
    said.value === null || halves === null
      ? said.value
      : (Math.sign(said.value) * halves) / (2 * 10 ** decimals);
  const negative =
    value !== null && Number(value.toFixed(decimals + (halves === null ? 0 : 1))) < 0;
  return { ...said, value, decimals, negative, half: halves !== null && halves % 2 === 1 };
}

/** Body as characters, or as half bytes where the shape is packed. */
function bodyText(shape: LineShape, said: Utterance): string {
  const special = specialText(shape, said);
  if (special !== undefined) return special;
  if (said.status !== 'ok' && !saysStatus(shape, said.status)) mustHave(undefined, said.status);
  const parts = partsOf(shape, said);
  let axis = 0;
  const pieces: string[] = [];
  for (const field of shape.fields) {
    if (field.kind === 'next axis') axis += 1;
    const before = () => {
      const text = pieces.join('');
      return Buffer.from(shape.packed ? packedBytes(text, shape.packed) : text, 'latin1');
    };
    const piece =
      field.kind === 'checksum'
        ? checksumSaid(field, shape.framing.start ?? '', before())
        : pieceText(field, parts[axis]!);
    const ofBytes = field.kind === 'checksum' || field.kind === 'count' || field.kind === 'flags';
    const swapped = ofBytes && shape.packed === 'low nibble first' && piece.length > 1;
    pieces.push(swapped ? piece.replace(/(.)(.)/g, '$2$1') : piece);
  }
  const { fixedBytes } = shape.framing;
  if (fixedBytes === undefined || shape.packed) return pieces.join('');
  return padded(shape.fields, pieces, fixedBytes).join('');
}

function saysStatus(shape: LineShape, status: ReadingStatus): boolean {
  return shape.fields.some(
    (field) =>
      (field.kind === 'status' && keyFor(field.map, status) !== undefined) ||
      (field.kind === 'flags' && field.bits.some(({ set }) => set === status)),
  );
}

/**
 * A reading as the bytes a device of this shape sends (Latin-1), or why this shape cannot say it. The
 * inverse of decoding, by the declared fields alone.
 */
export function speak(shape: LineShape, said: Utterance): Spoken {
  try {
    const { start = '', terminator, longestBytes } = shape.framing;
    const text = bodyText(shape, said);
    const body = shape.packed ? packedBytes(text, shape.packed) : text;
    if (body.length > longestBytes) {
      throw new Unsayable(`the frame has ${body.length} characters, at most ${longestBytes} go`);
    }
    const end =
      terminator === 'any newline' ? '\r\n' : terminator === 'no line end' ? '' : terminator;
    const framed = shape.framing.record === undefined ? body : body.replaceAll('\n', end + start);
    return { ok: true, bytes: Buffer.from(`${start}${framed}${end}`, 'latin1') };
  } catch (error) {
    if (error instanceof Unsayable) return { ok: false, why: error.message };
    throw error;
  }
}

/** True if a device of this shape can tell that it has no usable number for this reason. */
export function canSay(shape: LineShape, status: ReadingStatus): boolean {
  return shape.specials.some((special) => special.status === status) || saysStatus(shape, status);
}
