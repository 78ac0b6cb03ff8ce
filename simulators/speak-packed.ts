import type { ChecksumRule, LineShape, ShapeFieldOf } from '@taptrue/protocol';
import { mustHave, type PartSaid, Unsayable } from './utterance.ts';

type Packed = NonNullable<LineShape['packed']>;

/** Worked out on its own, from the published definitions, so that it does not share a reader's mistake. */
const CHECKSUMS: Readonly<Record<ChecksumRule, { hex: number; of(bytes: Buffer): number }>> = {
  sum: { hex: 2, of: (bytes) => bytes.reduce((all, byte) => (all + byte) % 256, 0) },
  'negative sum': {
    hex: 2,
    of: (bytes) => (256 - bytes.reduce((all, byte) => (all + byte) % 256, 0)) % 256,
  },
  xor: { hex: 2, of: (bytes) => bytes.reduce((all, byte) => all ^ byte, 0) },
  'crc-8': { hex: 2, of: (bytes) => divided(bits(bytes), [1, 0, 0, 0, 0, 0, 1, 1, 1], 0) },
  'crc-16/xmodem': { hex: 4, of: (bytes) => divided(bits(bytes), X16_X12_X5_1, 0) },
  'crc-16/modbus': {
    hex: 4,
    // Reflected: bits of each byte lowest first, register filled with ones, result mirrored.
    of: (bytes) => mirrored(divided(bits(bytes, true), X16_X15_X2_1, 0xffff)),
  },
};
const X16_X12_X5_1 = [1, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
const X16_X15_X2_1 = [1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 1];

function bits(bytes: Buffer, lowestFirst = false): number[] {
  return [...bytes].flatMap((byte) => {
    const eight = byte.toString(2).padStart(8, '0').split('').map(Number);
    return lowestFirst ? eight.reverse() : eight;
  });
}

/** Remainder of polynomial division over two, as long division on paper. */
function divided(message: readonly number[], by: readonly number[], filledWith: number): number {
  const width = by.length - 1;
  const rest = [...message, ...Array<number>(width).fill(0)];
  for (let at = 0; at < width; at += 1)
    rest[at] = rest[at]! ^ ((filledWith >> (width - 1 - at)) & 1);
  for (let at = 0; at < message.length; at += 1) {
    if (rest[at] === 1) for (const [step, bit] of by.entries()) rest[at + step]! ^= bit;
  }
  return Number.parseInt(rest.slice(message.length).join(''), 2);
}

function mirrored(value: number): number {
  return Number.parseInt([...value.toString(2).padStart(16, '0')].reverse().join(''), 2);
}

function pairsReversed(hex: string): string {
  return (hex.match(/../g) ?? []).reverse().join('');
}

export function checksumSaid(
  field: ShapeFieldOf<'checksum'>,
  start: string,
  before: Buffer,
): string {
  const rule = CHECKSUMS[field.rule];
  const from = field.of === 'from the start' ? Buffer.from(start, 'latin1') : Buffer.alloc(0);
  const hex = rule
    .of(Buffer.concat([from, before]))
    .toString(16)
    .padStart(rule.hex, '0');
  return field.lowByteFirst ? pairsReversed(hex) : hex;
}

export function countSaid(field: ShapeFieldOf<'count'>, part: PartSaid): string {
  const per = field.perUnit[part.unit];
  if (per === undefined) throw new Unsayable(`the shape does not count in ${part.unit}`);
  const size = 16 ** field.hexDigits;
  const counts = Math.round(Math.abs(part.value ?? 0) * per);
  const room = field.negative === 'never' ? size : size / 2;
  if (counts >= room) throw new Unsayable(`${part.value} is more than ${room} counts`);
  // Where the count itself carries no sign another field says it.
  const signed = part.negative && field.negative !== 'never';
  const raw = !signed ? counts : field.negative === 'top bit' ? size / 2 + counts : size - counts;
  const hex = raw.toString(16).padStart(field.hexDigits, '0');
  return field.lowByteFirst ? pairsReversed(hex) : hex;
}

export function flagsSaid(field: ShapeFieldOf<'flags'>, part: PartSaid): string {
  const isSo = (meaning: string) =>
    meaning === 'minus'
      ? part.negative
      : meaning === 'half digit'
        ? part.half
        : meaning === part.unit || meaning === part.status;
  let flags = 0;
  for (const { bit, set } of field.bits) if (set !== undefined && isSo(set)) flags |= 1 << bit;
  const sayable = field.bits.flatMap(({ set, clear }) => [set, clear]);
  const saysUnits = sayable.includes('mm') || sayable.includes('in');
  mustHave(!saysUnits || sayable.includes(part.unit) ? '' : undefined, part.unit);
  return flags.toString(16).padStart(field.hexDigits, '0');
}

/** Half bytes, written 0 to f, as the bytes they are packed into. */
export function packedBytes(halves: string, packed: Packed): string {
  const pairs = halves.match(/../g) ?? [];
  const ordered =
    packed === 'high nibble first' ? pairs : pairs.map((pair) => pair.charAt(1) + pair.charAt(0));
  return Buffer.from(ordered.join(''), 'hex').toString('latin1');
}
