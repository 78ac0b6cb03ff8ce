import type { LengthUnit, LineShape, ReadingStatus, ShapeField } from '@taptrue/protocol';
import { type NumberParts, takeDigits, wholeNumber } from './read-number.ts';

/** What one whole frame says. `value` is null where the device said something that is not a number. */
export type Decoded =
  | {
      kind: 'reading';
      value: number | null;
      decimals: number;
      /** null: the frame carries no unit. */
      unit: LengthUnit | null;
      status: ReadingStatus;
      channel: string | null;
    }
  | { kind: 'invalid'; why: string };

/** What of a shape says how a frame is read. */
export type FrameReading = Pick<LineShape, 'fields' | 'specials'>;

/** Where the walk through one frame stands. */
interface Walk extends NumberParts {
  readonly text: string;
  at: number;
  unit: LengthUnit | null;
  status: ReadingStatus;
  channel: string | null;
}

type FieldOf<K extends ShapeField['kind']> = Extract<ShapeField, { kind: K }>;
/** Takes one field off the walk; gives why it is not there, or null. */
type Take<K extends ShapeField['kind']> = (field: FieldOf<K>, walk: Walk) => string | null;

const TAKE: { [K in ShapeField['kind']]: Take<K> } = {
  literal(field, walk) {
    if (walk.text.startsWith(field.text, walk.at)) walk.at += field.text.length;
    else if (field.optional !== true) return missing(`"${field.text}"`, walk);
    return null;
  },
  spaces(field, walk) {
    const from = walk.at;
    while (walk.text[walk.at] === ' ') walk.at += 1;
    return walk.at - from < field.atLeast ? missing('a space', walk) : null;
  },
  sign(field, walk) {
    const sign = takeMapped(field.map, walk);
    if (sign !== undefined) walk.sign = sign;
    else if (field.optional !== true) return missing('a sign', walk);
    return null;
  },
  digits(field, walk) {
    const taken = takeDigits(walk.text, walk.at, field.point, field.atMost);
    if (taken.digits.length < field.atLeast) {
      return missing(`${field.atLeast} to ${field.atMost} digits`, walk);
    }
    if (field.point.kind === 'written' && (taken.decimals ?? 0) < 1) {
      return missing(`a decimal point "${field.point.mark}" with digits after it`, walk);
    }
    walk.at = taken.nextAt;
    walk.digits = taken.digits;
    if (taken.decimals !== null) walk.decimals = taken.decimals;
    return null;
  },
  unit(field, walk) {
    const unit = takeMapped(field.map, walk);
    if (unit !== undefined) walk.unit = unit;
    else if (field.optional !== true) return missing('a unit', walk);
    return null;
  },
  status(field, walk) {
    const status = takeMapped(field.map, walk);
    if (status !== undefined) walk.status = status;
    else if (field.optional !== true) return missing('a status word', walk);
    return null;
  },
  channel(field, walk) {
    const channel = longestFirst(field.allowed).find((tag) => walk.text.startsWith(tag, walk.at));
    if (channel === undefined) return field.optional === true ? null : missing('a channel', walk);
    walk.channel = channel;
    walk.at += channel.length;
    return null;
  },
  counter(field, walk) {
    const from = walk.at;
    while (isDigit(walk.text, walk.at)) walk.at += 1;
    const length = walk.at - from;
    if (length >= field.atLeast && length <= field.atMost) return null;
    return missing(`a counter of ${field.atLeast} to ${field.atMost} digits`, walk);
  },
  point(field, walk) {
    const decimals = takeMapped(field.map, walk);
    if (decimals === undefined) return missing('a point position', walk);
    walk.decimals = decimals;
    return null;
  },
};

/**
 * Reads the text between start and line end by the shape's fields, left to right, by length and character.
 * Every character must be accounted for. Never throws on any text, never gives NaN, never guesses a
 * digit; the number is exactly the one written (nearest double to its decimal digits).
 */
export function decodeFrame(body: string, shape: FrameReading): Decoded {
  for (const special of shape.specials) {
    if (special.text === body) {
      const channel = special.channel ?? null;
      const { status } = special;
      return { kind: 'reading', value: null, decimals: 0, unit: null, status, channel };
    }
  }
  const walk: Walk = {
    text: body,
    at: 0,
    sign: 1,
    digits: '',
    decimals: null,
    unit: null,
    status: 'ok',
    channel: null,
  };
  for (const field of shape.fields) {
    const why = takeField(field, walk);
    if (why !== null) return { kind: 'invalid', why };
  }
  if (walk.at < body.length) return { kind: 'invalid', why: missing('the end', walk) };
  const value = wholeNumber(walk);
  if (value === null) return { kind: 'invalid', why: 'the number has no known point' };
  return {
    kind: 'reading',
    value: saysNoNumber(walk.status) ? null : value,
    decimals: walk.decimals ?? 0,
    unit: walk.unit,
    status: walk.status,
    channel: walk.channel,
  };
}

/** The digits sent with these (often all nines) are no reading. */
function saysNoNumber(status: ReadingStatus): boolean {
  return status === 'over range' || status === 'error';
}

function takeField<K extends ShapeField['kind']>(field: FieldOf<K>, walk: Walk): string | null {
  const take = TAKE[field.kind as K] as Take<K>;
  return take(field, walk);
}

function takeMapped<T>(map: Readonly<Record<string, T>>, walk: Walk): T | undefined {
  const key = longestKeysFirst(map).find((text) => walk.text.startsWith(text, walk.at));
  if (key === undefined) return undefined;
  walk.at += key.length;
  return map[key];
}

function missing(what: string, walk: Walk): string {
  return `${what} expected at character ${walk.at + 1}`;
}

function isDigit(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code >= 48 && code <= 57;
}

/** Sorted once per table: `inch` must be tried before `in`. Shapes are not changed once checked. */
const sortedKeys = new WeakMap<object, readonly string[]>();

function longestKeysFirst(map: Readonly<Record<string, unknown>>): readonly string[] {
  return sortedOnce(map, () => Object.keys(map));
}

function longestFirst(tags: readonly string[]): readonly string[] {
  return sortedOnce(tags, () => [...tags]);
}

function sortedOnce(table: object, list: () => string[]): readonly string[] {
  let sorted = sortedKeys.get(table);
  if (sorted === undefined) {
    sorted = list().sort((one, other) => other.length - one.length);
    sortedKeys.set(table, sorted);
  }
  return sorted;
}
