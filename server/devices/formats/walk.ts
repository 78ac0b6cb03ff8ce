import type {
  LengthUnit,
  LineShape,
  PointRule,
  ReadingStatus,
  ShapeField,
  ShapeFieldOf,
} from '@taptrue/protocol';
import type { NumberParts } from './read-number.ts';

/** What of a shape says how a frame is read. Without framing or packing: text after no start character. */
export type FrameReading = Pick<LineShape, 'fields' | 'specials'> &
  Partial<Pick<LineShape, 'framing' | 'packed'>>;

/** What was found of one reading; a frame that carries several axes has one of these for each. */
export interface Part extends NumberParts {
  unit: LengthUnit | null;
  status: ReadingStatus | null;
  channel: string | null;
  /** A binary count is no decimal digits: as it is, per unit. */
  count: { counts: number; perUnit: ShapeFieldOf<'count'>['perUnit'] } | null;
  /** Where the unit tells the point. */
  byUnit: Extract<PointRule, { kind: 'given by unit' }> | null;
  /** Half of the last place: true, false, or null where the frame says nothing of it. */
  half: boolean | null;
  /** Stars stand where the number would be. */
  absent: boolean;
}

/** Where the walk through one frame stands. It only goes on, never back. */
export interface Walk {
  /** Characters of a text frame, half bytes of a packed one. */
  readonly text: string;
  readonly shape: FrameReading;
  at: number;
  part: Part;
  readonly parts: Part[];
}

/** Takes one field off the walk; gives why it is not there, or null. */
export type Take<K extends ShapeField['kind']> = (
  field: ShapeFieldOf<K>,
  walk: Walk,
) => string | null;

export function newPart(): Part {
  return {
    sign: 1,
    digits: '',
    decimals: null,
    unit: null,
    status: null,
    channel: null,
    count: null,
    byUnit: null,
    half: null,
    absent: false,
  };
}

export function missing(what: string, walk: Walk): string {
  const place = walk.shape.packed === undefined ? 'character' : 'half byte';
  return `${what} expected at ${place} ${walk.at + 1}`;
}

export function takeMapped<T>(map: Readonly<Record<string, T>>, walk: Walk): T | undefined {
  const key = sortedOnce(map, () => Object.keys(map)).find((text) =>
    walk.text.startsWith(text, walk.at),
  );
  if (key === undefined) return undefined;
  walk.at += key.length;
  return map[key];
}

/** Sorted once per table: `inch` must be tried before `in`. Shapes are not changed once checked. */
const sortedKeys = new WeakMap<object, readonly string[]>();

export function sortedOnce(table: object, list: () => string[]): readonly string[] {
  let sorted = sortedKeys.get(table);
  if (sorted === undefined) {
    sorted = list().sort((one, other) => other.length - one.length);
    sortedKeys.set(table, sorted);
  }
  return sorted;
}
