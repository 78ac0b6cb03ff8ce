import type { AngleKind, FaultCode } from '@taptrue/protocol';
import { arcsecFromRadians, formatAngle, radiansFromArcsec } from '@taptrue/protocol';
import { readSize } from '../exact-length.ts';
import { type Planned, refuse } from '../plan-fault.ts';
import { plainNotation, withDecimalPoint } from './print-notation.ts';

const UNIT_ARCSEC: Readonly<Record<string, number>> = {
  d: 3600,
  deg: 3600,
  '°': 3600,
  degrees: 3600,
  degree: 3600,
  degs: 3600,
  m: 60,
  min: 60,
  mins: 60,
  minute: 60,
  minutes: 60,
  arcmin: 60,
  "'": 60,
  s: 1,
  sec: 1,
  secs: 1,
  second: 1,
  seconds: 1,
  arcsec: 1,
  '"': 1,
  rad: arcsecFromRadians(1),
  mrad: arcsecFromRadians(1e-3),
};
/** A number, or a whole one and a fraction of it, and its unit; an abbreviation may end in a point. */
const PART =
  /(?:(\d+)[\s-]+(?=\d+\/))?(?:(\d+)\/([1-9]\d*)|(\d+(?:\.\d*)?|\.\d+))\s*(?:([a-z]+)\.?|([°'"]?))\s*/giy;
const BARE = /^(\d+)(?:[.:\s](\d+))?(?:[:\s](\d+))?$/;
const EXAMPLES = 'Write 12.5deg, 12deg30min, 12d30m15s or 12°30\'15".';

/** 12.3 degrees are 44,280 seconds, not 44,280.000000000007: the digits are multiplied, then scaled once. */
function exactProduct(digits: string, unit: number): number {
  const decimals = digits.includes('.') ? digits.length - digits.indexOf('.') - 1 : 0;
  return (Number(digits.replace('.', '')) * unit) / 10 ** decimals;
}

/** An angle of one or more parts with units, in seconds of arc, without any limit on its size. */
export function readAngleText(field: string, text: string): Planned<number> {
  const written = plainNotation(text);
  const no = (code: FaultCode, what: string, remedy: string) =>
    refuse(field, code, what, `"${text}"`, remedy);
  if (written === '') return no('angle-missing', `The ${field} is empty.`, EXAMPLES);
  if (/^[-−]/.test(written))
    return no(
      'negative-angle',
      `The ${field} is negative.`,
      'Write its size; which end goes away is the hand.',
    );
  // No angle has a thousand degrees, so a comma cannot part thousands here.
  const trimmed = withDecimalPoint(written, false);
  if (trimmed === null)
    return no(
      'comma-decimal',
      `The ${field} has a comma that cannot be a decimal mark.`,
      `Write one decimal mark in a number. ${EXAMPLES}`,
    );
  let total = 0;
  let previous = Number.POSITIVE_INFINITY;
  let at = 0;
  while (at < trimmed.length) {
    PART.lastIndex = at;
    const match = PART.exec(trimmed);
    if (!match) return no('not-an-angle', `The ${field} cannot be read.`, EXAMPLES);
    const [, whole, above, below, decimal] = match;
    const name = match[5] ?? match[6] ?? '';
    const number = decimal ?? `${whole === undefined ? '' : `${whole} `}${above}/${below}`;
    const value =
      decimal === undefined ? Number(whole ?? 0) + Number(above) / Number(below) : Number(decimal);
    const unit = UNIT_ARCSEC[name.toLowerCase()];
    if (name === '')
      return no('unit-missing', `The ${field} has a number without its unit.`, EXAMPLES);
    if (unit === undefined)
      return no('unknown-unit', `"${name}" is not a unit of angle known here.`, EXAMPLES);
    if (unit >= previous)
      return no(
        'parts-out-of-order',
        `The ${field} gives its parts out of order.`,
        'Write degrees, then minutes, then seconds.',
      );
    if (previous <= 3600 && value >= 60)
      return no(
        'part-too-large',
        `The ${field} has ${number} ${unit === 60 ? 'minutes' : 'seconds'} after a larger part.`,
        'Minutes and seconds run from 0 to 59.',
      );
    PART.lastIndex = at + match[0].length;
    if (!Number.isInteger(value) && at + match[0].length < trimmed.length) {
      return no(
        'decimal-before-minutes',
        `The ${field} has a decimal and then a smaller part.`,
        'Use decimals or minutes, not both: 12.5deg or 12deg30min.',
      );
    }
    total +=
      decimal === undefined
        ? Number(whole ?? 0) * unit + (Number(above) * unit) / Number(below)
        : exactProduct(decimal, unit);
    previous = unit;
    at += match[0].length;
  }
  return { ok: true, value: total };
}

/** 12.30 or 12 30: what may have been meant, spelled out, so that the user picks. */
function bareNumber(field: string, text: string): ReturnType<typeof refuse> {
  const [, whole, second, third] = BARE.exec(text.trim())!;
  const isDotted = !/[:\s]/.test(text.trim());
  const meanings: { text: string; says: string }[] = [];
  const offer = (meant: string) => {
    const read = readAngleText(field, meant);
    if (read.ok)
      meanings.push({
        text: meant,
        says: `${meant} is ${formatAngle(radiansFromArcsec(read.value))}`,
      });
  };
  if (isDotted) offer(`${text.trim()}deg`);
  if (second !== undefined && second.length <= 2) {
    offer(`${whole}deg${second}min${third === undefined ? '' : `${third}sec`}`);
  }
  return refuse(
    field,
    meanings.length > 1 ? 'decimal-or-minutes' : 'unit-missing',
    meanings.length > 1
      ? `The ${field} has no unit, and can be read as decimal degrees or as degrees and minutes.`
      : `The ${field} has no unit.`,
    `"${text}"`,
    meanings.length > 0
      ? `Write ${meanings.map((meaning) => meaning.text).join(' or ')}.`
      : EXAMPLES,
    meanings,
  );
}

/** 1:20, 6.125in/ft, 6 1/8in/ft, 0.75"/ft, 50mm/m, 1 in per foot: diameter gained per length. */
function readTaper(asWritten: string): number | null {
  const decimal = withDecimalPoint(plainNotation(asWritten), false);
  if (decimal === null) return null;
  const text = decimal
    .replace(/\bper\b/i, '/')
    .replace(/"|\b(inches|inch)\b\.?|\bin\.(?=\W|$)/gi, 'in')
    .replace(/\b(foot|feet)\b\.?|'$|\bft\.$/gi, 'ft')
    .replace(/\s*\/\s*(?=[a-z])/gi, '/');
  const ratio = /^1\s*:\s*(\d+(?:\.\d+)?)$/.exec(text);
  if (ratio) return Number(ratio[1]) > 0 ? 1 / Number(ratio[1]) : null;
  const per =
    /^(\d+(?:\.\d*)?|\.\d+)?(?:[\s-]*(\d+)\/(\d+))?\s*(in\/ft|in\/in|mm\/m|mm\/mm)$/i.exec(text);
  if (!per || (per[1] === undefined && per[2] === undefined)) return null;
  const amount = Number(per[1] ?? 0) + (per[2] === undefined ? 0 : Number(per[2]) / Number(per[3]));
  const unit = per[4]!.toLowerCase();
  const slope = amount / (unit === 'in/ft' ? 12 : unit === 'mm/m' ? 1000 : 1);
  return Number.isFinite(slope) ? slope : null;
}

/** The angle written and how much of it belongs to one side. */
export interface WrittenText {
  /** As written: the whole of a taper or of an included angle. */
  arcsec: number;
  /** The way it is written already says that half of it is set. */
  isWhole: boolean;
}

/** What the print says, in seconds of arc, without regard to the line it is measured from. */
export function readWrittenAngle(text: string, kind: AngleKind): Planned<WrittenText> {
  const field = 'angle';
  const isWhole = kind === 'included angle' || kind === 'taper half';
  const read = readByKind(field, text, kind);
  return read.ok ? { ok: true, value: { arcsec: read.value, isWhole } } : read;
}

function readByKind(field: string, text: string, kind: AngleKind): Planned<number> {
  if (kind === 'angle' || kind === 'included angle') {
    return BARE.test(text.trim()) ? bareNumber(field, text) : readAngleText(field, text);
  }
  if (kind === 'rise over run') {
    const [rise, run, ...more] = partsOfRise(text);
    if (rise === undefined || run === undefined || more.length > 0) {
      return refuse(
        field,
        'not-a-rise',
        'Rise over run needs two lengths.',
        `"${text}"`,
        'Write it like 1in/12in or 25mm/100mm.',
      );
    }
    const up = readSize('angle', rise);
    if (!up.ok) return up;
    const along = readSize('angle', run);
    if (!along.ok) return along;
    return { ok: true, value: arcsecFromRadians(Math.atan2(up.value.mm, along.value.mm)) };
  }
  const slope = readTaper(text.trim());
  if (slope === null)
    return refuse(
      field,
      'not-a-taper',
      'The taper cannot be read.',
      `"${text}"`,
      'Write it like 6.125in/ft, 50mm/m or 1:20, decimals with a point.',
    );
  return { ok: true, value: 2 * arcsecFromRadians(Math.atan(slope / 2)) };
}

/**
 * Rise and run, each with its unit. `1:20` and `1/20` need none: a ratio has the same value in any. Where only
 * the run names its unit, as in `5/100 mm`, both are in it.
 */
function partsOfRise(asWritten: string): string[] {
  const text = plainNotation(asWritten);
  const parts = text.split(/:|\/|\bover\b|\bin(?=\s+\d)/i).map((part) => part.trim());
  const [rise, run] = parts;
  if (parts.length !== 2 || !/^[\d.,]+$/.test(rise!)) return parts;
  const unit = /[a-zµ"]+\.?$/i.exec(run!)?.[0];
  if (unit !== undefined) return [`${rise}${unit}`, run!];
  return /^[\d.,]+$/.test(run!) ? [`${rise}mm`, `${run}mm`] : parts;
}

/** 12.30deg may have been copied from 12°30': true where two decimals could be minutes. */
export function looksLikeMinutes(text: string): boolean {
  const match = /^\d+\.(\d{2})\s*(d|deg|°|degrees?)$/i.exec(text.trim());
  return match !== null && Number(match[1]) < 60 && Number(match[1]) > 0;
}
