import type { FaultCode, LengthUnit } from '@taptrue/protocol';
import { withDecimalPoint } from './angle/print-notation.ts';
import { type Planned, refuse } from './plan-fault.ts';

/**
 * Stacks are added in whole steps: 0.00005 in (1270 nm) or 0.0005 mm (500 nm), the finest any block here is
 * engraved in. Lengths that are not stacks are held exactly in femtometres, 1 in = 25.4e12 fm.
 */
const FM_PER_UNIT: Readonly<Record<string, bigint>> = {
  mm: 10n ** 12n,
  cm: 10n ** 13n,
  m: 10n ** 15n,
  um: 10n ** 9n,
  µm: 10n ** 9n,
  in: 254n * 10n ** 11n,
  inch: 254n * 10n ** 11n,
  '"': 254n * 10n ** 11n,
  thou: 254n * 10n ** 8n,
};

export const FM_PER_STEP: Readonly<Record<LengthUnit, bigint>> = {
  in: 1_270_000_000n,
  mm: 500_000_000n,
};

/** Steps in one whole unit: 20,000 in an inch, 2,000 in a millimetre. */
export const STEPS_PER_UNIT: Readonly<Record<LengthUnit, number>> = { in: 20_000, mm: 2_000 };

export const STEP_TEXT: Readonly<Record<LengthUnit, string>> = {
  in: '0.00005 in',
  mm: '0.0005 mm',
};

/** More digits than any rule or certificate gives; 25.4 mm to nine decimals is still whole femtometres. */
const MOST_DECIMALS = 9;

/** Nothing that goes into a vise is longer. */
const LONGEST_FM = 10n ** 16n;

const LENGTH = /^([+-]?)(\d*)(?:\.(\d*))?\s*([a-zµ"]*)$/i;

export interface ExactLength {
  fm: bigint;
  mm: number;
  /** The unit it was written in, as inch or metric. */
  unit: LengthUnit;
}

/**
 * A length with its unit, exactly. A comma is a decimal mark; where it could part thousands too, as in
 * `1,005mm`, it is asked about, because one wrong length is not seen by any sweep.
 */
export function readLength(field: string, text: string): Planned<ExactLength> {
  const trimmed = text.trim().replace('−', '-');
  const no = (code: FaultCode, what: string, remedy: string) =>
    refuse(field, code, what, `"${text}"`, remedy);
  if (trimmed === '')
    return no('length-missing', `The ${field} is empty.`, 'Write a length such as 5in or 100mm.');
  const pointed = withDecimalPoint(trimmed, true);
  if (pointed === null) {
    return no(
      'comma-decimal',
      `The ${field} has a comma that may part thousands or decimals.`,
      `Write ${trimmed.replace(',', '.')} or ${trimmed.replaceAll(',', '')}, whichever is meant.`,
    );
  }
  const match = LENGTH.exec(pointed);
  const digits = `${match?.[2] ?? ''}${match?.[3] ?? ''}`;
  if (!match || digits === '') {
    return no(
      'not-a-length',
      `The ${field} is not one length with one unit.`,
      'Write it like 5in, 0.8682in or 100mm.',
    );
  }
  const unit = match[4]!.toLowerCase();
  const factor = FM_PER_UNIT[unit];
  if (unit === '') {
    return no(
      'unit-missing',
      `The ${field} has no unit.`,
      `Write ${trimmed}in or ${trimmed}mm, whichever is meant.`,
    );
  }
  if (factor === undefined) {
    return no(
      'unknown-unit',
      `"${match[4]}" is not a unit of length known here.`,
      'Use in, thou, mm or um.',
    );
  }
  const decimals = match[3]?.length ?? 0;
  if (decimals > MOST_DECIMALS || digits.length > 15) {
    return no(
      'too-many-digits',
      `The ${field} has more digits than can be meant.`,
      `Give at most ${MOST_DECIMALS} decimals.`,
    );
  }
  if (match[1] === '-') {
    return no('negative-length', `The ${field} is negative.`, 'Write its size without a sign.');
  }
  const fm = (BigInt(digits) * factor) / 10n ** BigInt(decimals);
  if (fm > LONGEST_FM)
    return no('too-long', `The ${field} is more than 10 m.`, 'Check the unit that was written.');
  const isInch = unit === 'in' || unit === 'inch' || unit === '"' || unit === 'thou';
  return { ok: true, value: { fm, mm: mmOfFm(fm), unit: isInch ? 'in' : 'mm' } };
}

/** As `readLength`, and more than nothing. */
export function readSize(field: string, text: string): Planned<ExactLength> {
  const read = readLength(field, text);
  if (read.ok && read.value.fm === 0n) {
    return refuse(field, 'no-length', `The ${field} is zero.`, `"${text}"`, 'Write its real size.');
  }
  return read;
}

export function mmOfFm(fm: bigint): number {
  return Number(fm) / 1e12;
}

/** Whole steps as millimetres. */
export function mmOfSteps(steps: number, unit: LengthUnit): number {
  return unit === 'in' ? (steps * 127) / 100_000 : steps / 2_000;
}

/** Whole steps as inches. */
export function inOfSteps(steps: number, unit: LengthUnit): number {
  return unit === 'in' ? steps / 20_000 : steps / 50_800;
}

/** Steps as a shop writes them: 0.8682, 0.02005; 58.345, 1.0005. */
export function stepsText(steps: number, unit: LengthUnit): string {
  const least = unit === 'in' ? 4 : 3;
  const decimals = least + 1;
  const scaled = String(steps * 5).padStart(decimals + 1, '0');
  const text = `${scaled.slice(0, -decimals)}.${scaled.slice(-decimals)}`;
  return text.endsWith('0') ? text.slice(0, -1) : text;
}
