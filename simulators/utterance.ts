import type { LengthUnit, ReadingStatus } from '@taptrue/protocol';

/** What a device has to say, before it is put into bytes. */
export interface Utterance {
  /** Number on the display, in `unit`; null where there is none (over range, error). */
  value: number | null;
  unit: LengthUnit;
  /** Digits after the point that the display shows. */
  decimals: number;
  status: ReadingStatus;
  /** Channel or axis tag; null: the first the shape allows. */
  channel: string | null;
  /** Running number of the reading, for shapes that carry one. */
  counter: number;
  /** Leave out every part that the shape allows to be left out. */
  terse: boolean;
  /** The other axes of a frame that carries several, by their tag; null: absent. Not named: nought. */
  others?: Readonly<Record<string, number | null>>;
}

/** What one axis of a frame says. */
export interface PartSaid extends Utterance {
  /** Rounded first: what rounds to nought is said with the sign of nought, plus. */
  negative: boolean;
  /** Half of the last place is said by a flag. */
  half: boolean;
}

/** The shape has no way to say it. */
export class Unsayable extends Error {}

export function mustHave(key: string | undefined, what: string): string {
  if (key === undefined) throw new Unsayable(`the shape has no way to say ${what}`);
  return key;
}

export function keyFor<T>(map: Readonly<Record<string, T>>, wanted: T): string | undefined {
  return Object.keys(map).find((key) => map[key] === wanted);
}
