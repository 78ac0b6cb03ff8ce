import type { LineShape, ShapeField, ShapeFieldOf } from '@taptrue/protocol';
import { countSaid, flagsSaid } from './speak-packed.ts';
import { keyFor, mustHave, type PartSaid, Unsayable, type Utterance } from './utterance.ts';

/** Stands for what a reader passes over. */
const IGNORED = '0';

/** The most decimals this part of the shape can show that are no more than the device shows. */
export function decimalsSaid(
  fields: readonly ShapeField[],
  { decimals, unit }: Pick<Utterance, 'decimals' | 'unit'>,
): number {
  for (const field of fields) {
    if (field.kind === 'point') {
      const offered = Object.values(field.map).sort((a, b) => a - b);
      return offered.filter((count) => count <= decimals).at(-1) ?? offered[0] ?? decimals;
    }
    if (field.kind === 'count') {
      return Math.ceil(Math.log10(field.perUnit[unit] ?? 1) - 1e-9);
    }
    if (field.kind !== 'digits') continue;
    const { point } = field;
    if (point.kind === 'implied') return point.decimals;
    if (point.kind === 'given by unit') return point[unit];
    // A point that is written has a digit after it.
    if (point.kind === 'written' && point.wholeWithout !== true) return Math.max(1, decimals);
  }
  return decimals;
}

function digitsText(field: ShapeFieldOf<'digits'>, part: PartSaid): string {
  const { value, decimals } = part;
  // A device without a number fills its digits with nines: nothing there can be taken for a measurement.
  const plain =
    value === null
      ? '9'.repeat(Math.min(Math.max(field.atLeast, decimals + 1), field.atMost))
      : wholeDigits(Math.abs(value), part);
  const digits = plain.padStart(field.atLeast, '0');
  if (digits.length > field.atMost) {
    throw new Unsayable(`${value} takes ${digits.length} digits, the shape has ${field.atMost}`);
  }
  if (field.lowestFirst) return [...digits].reverse().join('');
  if (field.point.kind !== 'written' || decimals === 0) return digits;
  const whole = digits.length - decimals;
  if (whole < 0) throw new Unsayable(`${decimals} decimals do not go into ${digits.length} digits`);
  return `${digits.slice(0, whole)}${field.point.mark}${digits.slice(whole)}`;
}

/** All digits, the half of the last place cut off where a flag says it. */
function wholeDigits(magnitude: number, { decimals, half }: PartSaid): string {
  const rounded = half ? magnitude - 0.5 * 10 ** -decimals : magnitude;
  return rounded.toFixed(decimals).replace('.', '');
}

function signText(field: ShapeFieldOf<'sign'>, { negative, terse }: PartSaid): string {
  if (!negative && field.optional && terse) return '';
  const key = keyFor(field.map, negative ? -1 : 1);
  if (key === undefined && !negative && field.optional) return '';
  return mustHave(key, negative ? 'minus' : 'plus');
}

function channelText(field: ShapeFieldOf<'channel'>, part: PartSaid): string {
  if (field.optional && part.terse && part.channel === null) return '';
  const tag = part.channel ?? field.allowed[0];
  return mustHave(tag !== undefined && field.allowed.includes(tag) ? tag : undefined, `${tag}`);
}

function statusText(field: ShapeFieldOf<'status'>, part: PartSaid): string {
  const usual = part.status === 'ok';
  const key = keyFor(field.map, part.status);
  if (usual && field.optional && (part.terse || key === undefined)) return '';
  return mustHave(key, part.status);
}

/** One field as text; checksums are put in afterwards, over what stands before them. */
export function pieceText(
  field: Exclude<ShapeField, ShapeFieldOf<'checksum'>>,
  part: PartSaid,
): string {
  switch (field.kind) {
    case 'literal':
      return field.optional && part.terse ? '' : field.text;
    case 'spaces':
      return ' '.repeat(field.atLeast);
    case 'ignore':
      return IGNORED.repeat(field.upTo === undefined ? field.characters : 1);
    case 'sign':
      return signText(field, part);
    case 'digits':
      return part.value === null && part.status === 'ok'
        ? mustHave(field.absent?.repeat(field.atMost), 'that there is no number')
        : digitsText(field, part);
    case 'count':
      return countSaid(field, part);
    case 'flags':
      return flagsSaid(field, part);
    case 'unit':
      return field.optional && part.terse ? '' : mustHave(keyFor(field.map, part.unit), part.unit);
    case 'unit is':
      return mustHave(field.unit === part.unit ? '' : undefined, part.unit);
    case 'status':
      return statusText(field, part);
    case 'channel':
      return channelText(field, part);
    case 'counter':
      return String(part.counter % 10 ** field.atMost).padStart(field.atLeast, '0');
    case 'point':
      return mustHave(keyFor(field.map, part.decimals), `${part.decimals} decimals`);
    case 'channel is':
    case 'next axis':
      return '';
  }
}

/** Brings a frame of fixed length up to it: spaces first, where the shape has any, else leading zeros. */
export function padded(
  fields: readonly ShapeField[],
  pieces: readonly string[],
  wanted: number,
): string[] {
  const short = wanted - pieces.join('').length;
  if (short < 0) throw new Unsayable(`the frame is ${-short} characters longer than its shape`);
  if (short === 0) return [...pieces];
  const spaces = fields.findIndex((field) => field.kind === 'spaces');
  const at = spaces >= 0 ? spaces : fields.findIndex((field) => field.kind === 'digits');
  const field = fields[at];
  const piece = pieces[at];
  if (field === undefined || piece === undefined) {
    throw new Unsayable(`the frame is ${short} characters shorter than its shape`);
  }
  const longer = piece.padStart(piece.length + short, field.kind === 'spaces' ? ' ' : '0');
  if (field.kind === 'digits' && longer.replace(/\D/g, '').length > field.atMost) {
    throw new Unsayable(`the frame is ${short} characters shorter than its shape`);
  }
  return pieces.map((text, index) => (index === at ? longer : text));
}

export function specialText(shape: LineShape, said: Utterance): string | undefined {
  if (said.status === 'ok' && said.value !== null) return undefined;
  return shape.specials.find(
    (special) =>
      special.status === said.status &&
      (said.channel === null || special.channel === undefined || special.channel === said.channel),
  )?.text;
}
