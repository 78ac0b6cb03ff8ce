import type { Segment } from './align-spans.ts';
import { AXES, knownMeaning } from './known-texts.ts';

/** Units of length that are not the two readings are kept in; lower case, as they are compared. */
const OTHER_LENGTHS = new Set([
  'um',
  '\u00b5m',
  '\u03bcm',
  'micron',
  'microns',
  'nm',
  'cm',
  'dm',
  'm',
  'mil',
  'mils',
  'thou',
  'tenths',
  'ft',
  'uin',
  '\u00b5in',
]);

/** A word, sign of minutes or percent right behind the number; a comma or spaces may stand between. */
const WORD_BEHIND = /^[\s,;]*([A-Za-z\u0080-\u00ff%"'*?]+\.?)/;
const WORD_BEFORE = /([A-Za-z\u0080-\u00ff]+)[\s:=]*[+-]?\s*$/;

/** The three bytes that U+2212, the minus of typesetters, is sent as. */
const LONG_MINUS = '\u00e2\u0088\u0092';

/**
 * What stands beside the number in every captured line, is taken as never changing, and could be a unit, a sign
 * or a part of the number: asked about, because the lines alone do not tell. `123.4 um` was taught as 123.4 mm,
 * and lines that were all negative, `0.123-`, lost their sign. Empty: nothing is doubtful.
 */
export function doubtsBeside(segments: readonly Segment[]): string[] {
  return segments.flatMap(({ means, text }, index) => {
    if (means !== 'number') return [];
    const line = segments
      .slice(0, index)
      .map((segment) => segment.text)
      .join('');
    const before = segments[index - 1];
    const behind = segments[index + 1];
    const next = segments[index + 2];
    return [
      ...thousandsDoubt(line, text),
      ...(before?.means === 'fixed' ? doubtsBefore(before.text) : []),
      ...(behind?.means === 'fixed' ? doubtsBehind(behind.text, next) : []),
    ];
  });
}

/** `1,234.5`: three digits behind a separator that follows a digit are the rest of a thousand. */
function thousandsDoubt(before: string, number: string): string[] {
  const thousands = /\d{1,3}[,' ]$/.exec(before)?.[0];
  if (thousands === undefined || !/^\d{3}(?!\d)/.test(number)) return [];
  return [
    `"${thousands}" stands before the number in every line and may be its thousands: take lines below and above 1000.`,
  ];
}

function doubtsBefore(text: string): string[] {
  if (isMinus(text.slice(-3))) return [minusDoubt(text)];
  const word = WORD_BEFORE.exec(text)?.[1];
  return word !== undefined && OTHER_LENGTHS.has(word.toLowerCase()) && word.length > 1
    ? [unitDoubt(word)]
    : [];
}

function doubtsBehind(text: string, next: Segment | undefined): string[] {
  if (/^\s*[-)]/.test(text) || text.trimStart().startsWith(LONG_MINUS)) return [minusDoubt(text)];
  const word = WORD_BEHIND.exec(text)?.[1];
  if (word === undefined) return [];
  const plain = word.replace(/\.$/, '').toLowerCase();
  if (/^(neg|minus)$/.test(plain)) return [minusDoubt(word)];
  if (knownMeaning('status', plain) !== null || knownMeaning('unit', plain) !== null) return [];
  if (isNextLabel(text, word, next)) return [];
  return [unitDoubt(word)];
}

/** `X1.0 Y2.0`: the letter behind the number names the axis of the next one. */
function isNextLabel(text: string, word: string, next: Segment | undefined): boolean {
  const names = AXES.some((axis) => axis === word.toUpperCase());
  const isLast = new RegExp(`${word}["':= ]*[+-]?\\s*$`).test(text);
  const leads = ['number', 'sign', 'ignored', 'channel'].includes(next?.means ?? '');
  return leads && isLast && (names || /^[A-Za-z]+$/.test(word));
}

function isMinus(text: string): boolean {
  return text === LONG_MINUS || /\($/.test(text);
}

function minusDoubt(text: string): string {
  return `"${shown(text)}" stands beside the number in every line and may be a minus: take lines of both signs, and mark it as the sign.`;
}

function unitDoubt(word: string): string {
  return OTHER_LENGTHS.has(word.toLowerCase())
    ? `"${shown(word)}" beside the number is a unit that is not read here yet: set the device to mm or inches and take the lines again.`
    : `Say what "${shown(word)}" beside the number is: mark it as unit, status, sign, or as passed over. A unit of anything but length cannot be used.`;
}

/** Printable, and short. */
function shown(text: string): string {
  return text
    .replaceAll(LONG_MINUS, '\u2212')
    .replace(/[^\x20-\x7e\u00a0-\u00ff\u2212]/g, '.')
    .trim()
    .slice(0, 12);
}
