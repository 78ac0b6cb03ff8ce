import type { FlagMeaning } from '@taptrue/protocol';
import { checksumBytes, checksumText } from './checksums.ts';
import { fromHalfBytes } from './half-bytes.ts';
import { missing, type Part, type Take, type Walk } from './walk.ts';

/** Fields of hexadecimal characters: written as such, or the half bytes of a packed frame. */
export const TAKE_PACKED: {
  count: Take<'count'>;
  flags: Take<'flags'>;
  checksum: Take<'checksum'>;
} = {
  count(field, walk) {
    const hex = takeHex(walk, field.hexDigits);
    if (hex === null) return missing(`${field.hexDigits} hexadecimal characters`, walk);
    const ordered = field.lowByteFirst === true ? bytesReversed(hex) : hex;
    const raw = Number.parseInt(ordered, 16);
    const top = 2 ** (4 * field.hexDigits - 1);
    const { part } = walk;
    let counts = raw;
    if (raw >= top && field.negative === 'twos complement') counts = raw - 2 * top;
    if (raw >= top && field.negative === 'top bit') counts = -(raw - top);
    part.count = { counts, perUnit: field.perUnit };
    return null;
  },
  flags(field, walk) {
    const from = walk.at;
    const hex = takeHex(walk, field.hexDigits);
    if (hex === null) return missing(`${field.hexDigits} hexadecimal characters of flags`, walk);
    let left = Number.parseInt(hex, 16);
    for (const { bit, set, clear } of field.bits) {
      const isSet = (left & (1 << bit)) !== 0;
      left &= ~(1 << bit);
      if (set === 'half digit') walk.part.half = isSet;
      const meant = isSet ? set : clear;
      if (meant !== undefined) takeMeaning(meant, walk.part);
    }
    if (field.others === 'anything' || left === 0) return null;
    walk.at = from;
    return missing('flags that are known', walk);
  },
  checksum(field, walk) {
    const from = walk.at;
    const before = bytesBefore(walk, field.of === 'from the start');
    const hex = takeHex(walk, 2 * checksumBytes(field.rule));
    const wanted = checksumText(field.rule, before, field.lowByteFirst === true);
    if (hex === wanted) return null;
    walk.at = from;
    return missing(`the checksum ${wanted}`, walk);
  },
};

function takeMeaning(meant: FlagMeaning, part: Part): void {
  if (meant === 'half digit') return;
  if (meant === 'minus') part.sign = -1;
  else if (meant === 'mm' || meant === 'in') part.unit = meant;
  // Two flags may be set at once; the one that forbids the number must not be outvoted.
  else if (part.status === null || part.status === 'ok' || part.status === 'low battery') {
    part.status = meant;
  }
}

/**
 * The next hexadecimal characters in lower case, whole bytes written high half first whichever comes first on the
 * line; null where they are not all there.
 */
function takeHex(walk: Walk, length: number): string | null {
  const hex = walk.text.slice(walk.at, walk.at + length).toLowerCase();
  if (hex.length < length) return null;
  for (let at = 0; at < hex.length; at += 1) {
    const code = hex.charCodeAt(at);
    if (!((code >= 48 && code <= 57) || (code >= 97 && code <= 102))) return null;
  }
  walk.at += length;
  return walk.shape.packed === 'low nibble first' ? pairsSwapped(hex) : hex;
}

function pairsSwapped(hex: string): string {
  let swapped = '';
  for (let at = 0; at < hex.length; at += 2) swapped += hex.charAt(at + 1) + hex.charAt(at);
  return swapped;
}

function bytesReversed(hex: string): string {
  let reversed = '';
  for (let at = hex.length - 2; at >= 0; at -= 2) reversed += hex.slice(at, at + 2);
  return reversed;
}

function bytesBefore(walk: Walk, withStart: boolean): Uint8Array {
  const { packed, framing } = walk.shape;
  const read = walk.text.slice(0, walk.at);
  const body = packed === undefined ? read : fromHalfBytes(read, packed);
  return Buffer.from((withStart ? (framing?.start ?? '') : '') + body, 'latin1');
}
