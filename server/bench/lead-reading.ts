import {
  type Fault,
  type LengthUnit,
  leadUnitOf,
  parseLengthMm,
  parseNumber,
  type Setup,
  toMm,
} from '@taptrue/protocol';
import { type KeyedReading, notRead, typedDecimals } from './keyed-reading.ts';

/**
 * A reading that an indicator lead typed, in millimetres as the display shows them. It is read in the unit of
 * the lead, never in thousandths or divisions, which are the shorthand of a hand. A unit sent behind the
 * number must be the one that was said; another is refused, never converted in silence.
 */
export function readLead(text: string, setup: Setup): KeyedReading {
  const typed = text.trim();
  const unit = leadUnitOf(setup);
  const digit = 10 ** -typedDecimals(typed);
  const number = parseNumber(typed);
  if (number.ok) {
    if (unit === null) return { ok: false, fault: unitNotSaid(typed, setup) };
    return { ok: true, readingMm: toMm(number.value, unit), digitMm: toMm(digit, unit) };
  }
  const length = parseLengthMm(typed);
  const one = parseLengthMm(typed.replace(/^[-+−]?[\d.,]+/, '1'));
  if (!length.ok || !one.ok) {
    return {
      ok: false,
      fault: notRead(typed, 'A lead is to send one number, with or without its unit: set it so.'),
    };
  }
  if (unit !== null && one.value !== toMm(1, unit)) {
    return { ok: false, fault: otherUnit(typed, unit) };
  }
  return { ok: true, readingMm: length.value, digitMm: digit * one.value };
}

function unitNotSaid(typed: string, { keyedAs }: Setup): Fault {
  const rule = keyedAs.kind === 'divisions' ? 'dial divisions' : 'thousandths';
  return {
    code: 'lead-unit-not-set',
    what: `A lead typed this reading. Readings typed by hand are ${rule} here, which no lead sends, and the unit of its display was not said. Nothing was taken.`,
    got: typed,
    remedy: 'Say whether the display of the indicator shows inches or millimetres.',
  };
}

function otherUnit(typed: string, unit: LengthUnit): Fault {
  return {
    code: 'lead-unit-differs',
    what: `The lead sent another unit than was said: its readings are taken in ${unit}. Nothing was taken.`,
    got: typed,
    remedy: `Switch the indicator back to ${unit}, check its zero, and press the key again; or set the other unit before a new sweep.`,
  };
}
