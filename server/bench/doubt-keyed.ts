import { type Fault, formatLength, type LengthUnit } from '@taptrue/protocol';
import type { GoodKeyed } from './keyed-reading.ts';

/** By how much a reading is off that was typed or sent in another unit, and the words for it. */
const CONFUSIONS: readonly [factor: number, words: string][] = [
  [1000, '1000 times'],
  [1 / 1000, 'a thousandth of'],
  [25.4, '25.4 times'],
  [1 / 25.4, 'a 25.4th of'],
];

/** Both readings must have two figures: below, a factor of 25 is no more than a few counts of the display. */
const LEAST_DIGITS = 10;
/** How near the ratio must be, beside what the last digits leave open. */
const NEAR = 0.03;

/** Whole numbers of this and more are no readings of a length but ones of a finer rule, mm. */
const WHOLE_FROM_MM = 10;

/** Who typed, and whether by a rule of lengths. */
export type TypedBy = 'lead' | 'hand, lengths' | 'hand, shorthand';

/**
 * Why a typed reading is asked about before it is taken; null: nothing is strange about it. It is off the
 * reading before it as a confused unit would be (inches against thousandths, inches against millimetres), or
 * it is a length without a decimal mark. Pure.
 *
 * @param last the typed reading before it, on the same zero; null: none.
 */
export function doubtOf(
  read: GoodKeyed,
  typed: { keyed: string; by: TypedBy },
  last: GoodKeyed | null,
  displayUnit: LengthUnit,
): Fault | null {
  const got = typed.keyed.trim();
  if (wantsItsPoint(read, typed.by, got)) {
    return {
      code: 'keyed-doubted',
      what: `It has no decimal mark: as it stands that is ${formatLength(read.readingMm, displayUnit)}. Nothing was taken.`,
      got,
      remedy:
        typed.by === 'lead'
          ? 'Hold it against the display. Set the lead to send the point, or take it all the same.'
          : 'Key it again with its point; or take it all the same, where the dial does show that.',
    };
  }
  const words = last && confusionOf(read, last);
  if (last && !words && isPlaceOfTravel(read, last)) {
    return {
      code: 'keyed-doubted',
      what: `As it stands that is ${formatLength(read.readingMm, displayUnit)}, after ${formatLength(last.readingMm, displayUnit)}: more than a bar under an indicator lies off. Nothing was taken.`,
      got,
      remedy:
        'Look at the dial, then key it again with its point; or take it all the same, where the dial does show that.',
    };
  }
  if (!last || !words) return null;
  return {
    code: 'keyed-doubted',
    what: `This is ${words} the reading before it (${formatLength(last.readingMm, displayUnit)}): a unit may have been mixed up. Nothing was taken.`,
    got,
    remedy:
      'Look at the dial and its unit, then key it again; or take it all the same, where the dial does show that.',
  };
}

function wantsItsPoint({ readingMm }: GoodKeyed, by: TypedBy, got: string): boolean {
  if (/[.,]/.test(got) || readingMm === 0) return false;
  return by === 'lead' || (by === 'hand, lengths' && Math.abs(readingMm) >= WHOLE_FROM_MM);
}

/** Between two stations a bar seldom lies off by more, mm: a degree over 120 mm. */
const LARGEST_STEP_MM = 2;
/** ...and where the dial stands far out, its readings are near each other. */
const LARGEST_RATIO = 20;

function isPlaceOfTravel(read: GoodKeyed, last: GoodKeyed): boolean {
  const stepMm = Math.abs(read.readingMm - last.readingMm);
  return (
    stepMm > LARGEST_STEP_MM && Math.abs(read.readingMm) > LARGEST_RATIO * Math.abs(last.readingMm)
  );
}

function confusionOf(read: GoodKeyed, last: GoodKeyed): string | null {
  const ratio = read.readingMm / last.readingMm;
  const digits = Math.abs(read.readingMm) / read.digitMm;
  const lastDigits = Math.abs(last.readingMm) / last.digitMm;
  if (!(ratio > 0) || Math.min(digits, lastDigits) < LEAST_DIGITS) return null;
  const open = NEAR + 0.5 / digits + 0.5 / lastDigits;
  const found = CONFUSIONS.find(([factor]) => Math.abs(Math.log(ratio / factor)) <= open);
  return found?.[1] ?? null;
}
