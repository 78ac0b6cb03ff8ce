import type { LengthUnit, ReadingStatus, ShapeField, ShapeFieldOf } from '@taptrue/protocol';
import { halfBytes } from './half-bytes.ts';
import { countedNumber, type NumberParts, wholeNumber } from './read-number.ts';
import { TAKE_PACKED } from './take-packed.ts';
import { TAKE_TEXT } from './take-text.ts';
import { type FrameReading, missing, newPart, type Part, type Take, type Walk } from './walk.ts';

export type { FrameReading } from './walk.ts';

/** What one whole frame says. `value` is null where the device said something that is not a number. */
export type Decoded = WholeReading | { kind: 'invalid'; why: string };

export interface WholeReading {
  kind: 'reading';
  value: number | null;
  decimals: number;
  /** null: the frame carries no unit. */
  unit: LengthUnit | null;
  status: ReadingStatus;
  channel: string | null;
}

/** Every reading of one frame, in its order: a line may carry several axes. */
export type DecodedFrame =
  | { kind: 'readings'; readings: readonly WholeReading[] }
  /** `at` counts characters, half bytes in a packed frame, from 0. */
  | { kind: 'invalid'; why: string; at: number };

const TAKE: { [K in ShapeField['kind']]: Take<K> } = { ...TAKE_TEXT, ...TAKE_PACKED };

/**
 * Reads the text between start and line end by the shape's fields, left to right, by length and character.
 * Every character must be accounted for. Never throws on any text, never gives NaN, never guesses a
 * digit; the number is exactly the one written (nearest double to its decimal digits).
 */
export function decodeAxes(body: string, shape: FrameReading): DecodedFrame {
  const text = shape.packed === undefined ? body : halfBytes(body, shape.packed);
  for (const { text: whole, status, channel } of shape.specials) {
    if (whole === text) {
      return {
        kind: 'readings',
        readings: [noNumber(status, { unit: null, channel: channel ?? null })],
      };
    }
  }
  const part = newPart();
  const walk: Walk = { text, shape, at: 0, part, parts: [part] };
  const invalid = (why: string) => ({ kind: 'invalid', why, at: walk.at }) as const;
  for (const field of shape.fields) {
    const why = takeField(field, walk);
    if (why !== null) return invalid(why);
  }
  if (walk.at < text.length) return invalid(missing('the end', walk));
  const readings: WholeReading[] = [];
  for (const [index, one] of walk.parts.entries()) {
    const unit = one.unit ?? said(walk.parts, index, 'unit');
    const status = one.status ?? said(walk.parts, index, 'status') ?? 'ok';
    const reading = readingOf(one, unit, status);
    if (reading === null) return invalid('the number has no known point');
    readings.push(reading);
  }
  return { kind: 'readings', readings };
}

/** The first axis of the frame that has a number, the first of all where none has. */
export function decodeFrame(body: string, shape: FrameReading): Decoded {
  const decoded = decodeAxes(body, shape);
  if (decoded.kind === 'invalid') return { kind: 'invalid', why: decoded.why };
  const { readings } = decoded;
  return readings.find((reading) => reading.value !== null) ?? readings[0]!;
}

function takeField<K extends ShapeField['kind']>(field: ShapeFieldOf<K>, walk: Walk) {
  const take = TAKE[field.kind as K] as Take<K>;
  return take(field, walk);
}

/** What a part does not say itself holds for all: the next one that says it, else the one before. */
function said<W extends 'unit' | 'status'>(parts: readonly Part[], index: number, what: W) {
  const saying = (part: Part) => part[what] !== null;
  const behind = parts.slice(index + 1).find(saying);
  return (behind ?? parts.slice(0, index).findLast(saying))?.[what] ?? null;
}

function readingOf(
  part: Part,
  unitSaid: LengthUnit | null,
  status: ReadingStatus,
): WholeReading | null {
  const { channel } = part;
  if (part.absent) return noNumber('error', { unit: unitSaid, channel });
  let unit = unitSaid;
  let number: { value: number; decimals: number } | null;
  if (part.count !== null) {
    const { counts, perUnit } = part.count;
    // A count of hundredths of a millimetre says its unit by what it counts.
    unit ??= perUnit.in === undefined ? 'mm' : perUnit.mm === undefined ? 'in' : null;
    const per = unit === null ? undefined : perUnit[unit];
    number = per === undefined ? null : countedNumber(part.sign * counts, per);
  } else {
    number = written(withPoint(part, unit));
  }
  if (number === null) return null;
  if (saysNoNumber(status))
    return { ...noNumber(status, { unit, channel }), decimals: number.decimals };
  return { kind: 'reading', ...number, unit, status, channel };
}

/** The parts of the number with a point that the unit tells, and the half digit put behind. */
function withPoint(part: Part, unit: LengthUnit | null): NumberParts {
  const { sign, digits } = part;
  const decimals = part.decimals ?? (unit === null ? null : (part.byUnit?.[unit] ?? null));
  if (part.half === null || unit !== 'in' || decimals === null) return { sign, digits, decimals };
  return { sign, digits: `${digits}${part.half ? 5 : 0}`, decimals: decimals + 1 };
}

function written(parts: NumberParts): { value: number; decimals: number } | null {
  const value = wholeNumber(parts);
  return value === null ? null : { value, decimals: parts.decimals ?? 0 };
}

/** The digits sent with these (often all nines) are no reading. */
function saysNoNumber(status: ReadingStatus): boolean {
  return status === 'over range' || status === 'error';
}

function noNumber(
  status: ReadingStatus,
  { unit, channel }: { unit: LengthUnit | null; channel: string | null },
): WholeReading {
  return { kind: 'reading', value: null, decimals: 0, unit, status, channel };
}
