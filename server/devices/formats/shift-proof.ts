import type { LineShape, ShapeField } from '@taptrue/protocol';
import { checksumBytes } from './checksums.ts';
import { halfBytes } from './half-bytes.ts';

const DIGITS = '0123456789';
const ANY = '0123456789abcdef';

/** What may stand at each place of one field of fixed width; null: its width is not fixed. */
function placesOf(field: ShapeField): string[] | null {
  if ('optional' in field && field.optional === true) return null;
  const same = (length: number, what: string) => Array<string>(length).fill(what);
  switch (field.kind) {
    case 'literal':
      return [...field.text];
    case 'ignore':
      return field.upTo === undefined ? same(field.characters, ANY) : null;
    case 'digits':
      return field.atLeast === field.atMost && field.absent === undefined
        ? same(field.atMost, DIGITS)
        : null;
    case 'counter':
      return field.atLeast === field.atMost ? same(field.atMost, DIGITS) : null;
    case 'count':
      return same(field.hexDigits, ANY);
    case 'flags':
      return flagPlaces(field);
    case 'checksum':
      return same(2 * checksumBytes(field.rule), ANY);
    case 'sign':
    case 'unit':
    case 'status':
    case 'point':
      return fromTexts(Object.keys(field.map));
    case 'channel':
      return fromTexts(field.allowed);
    case 'unit is':
    case 'channel is':
    case 'next axis':
      return [];
    case 'spaces':
      return null;
  }
}

function fromTexts(texts: readonly string[]): string[] | null {
  const length = texts[0]?.length ?? 0;
  if (texts.some((text) => text.length !== length)) return null;
  return Array.from({ length }, (_, at) => texts.map((text) => text.charAt(at)).join(''));
}

function flagPlaces(field: Extract<ShapeField, { kind: 'flags' }>): string[] {
  if (field.others === 'anything') return Array<string>(field.hexDigits).fill(ANY);
  const known = field.bits.reduce((mask, { bit }) => mask | (1 << bit), 0);
  const within = (mask: number) =>
    [...ANY].filter((hex) => (Number.parseInt(hex, 16) & ~mask) === 0).join('');
  const low = within(known & 15);
  return field.hexDigits === 1 ? [low] : [within(known >> 4), low];
}

/** What may stand at each half byte of the whole frame; null: its width is not fixed. */
export function placesOfFrame(shape: LineShape): string[] | null {
  const places: string[] = [
    ...halfBytes(shape.framing.start ?? '', shape.packed ?? 'high nibble first'),
  ];
  for (const field of shape.fields) {
    const more = placesOf(field);
    if (more === null) return null;
    const swapped = field.kind === 'flags' && shape.packed === 'low nibble first';
    places.push(...(swapped ? more.reverse() : more));
  }
  for (const special of shape.specials) {
    const from = places.length - special.text.length;
    for (let at = 0; at < special.text.length; at += 1) {
      places[from + at] = (places[from + at] ?? '') + special.text.charAt(at);
    }
  }
  return places;
}

/** A field of whole bytes that begins in the middle of one; null: none does. Widths must be fixed. */
export function splitByte(shape: LineShape): number | null {
  let at = 0;
  for (const [index, field] of shape.fields.entries()) {
    const ofBytes =
      field.kind === 'checksum' ||
      field.kind === 'count' ||
      (field.kind === 'flags' && field.hexDigits === 2);
    if (ofBytes && at % 2 === 1) return index;
    at += placesOf(field)?.length ?? 0;
  }
  return null;
}

/**
 * True where no window but a frame itself can be valid: neither one that begins inside a frame and ends
 * inside the next, nor a frame cut short with the next behind it. At every shift by whole bytes some place
 * allows nothing that the shifted place allows too. At most 64 × 128 comparisons of at most 16 half bytes.
 */
export function isShiftProof(shape: LineShape): boolean {
  const places = placesOfFrame(shape);
  if (places === null) return false;
  for (let shift = 2; shift < places.length; shift += 2) {
    if (places.slice(shift).every((allowed, at) => shareOne(allowed, places[at] ?? '')))
      return false;
  }
  return true;
}

function shareOne(one: string, other: string): boolean {
  return [...one].some((half) => other.includes(half));
}
