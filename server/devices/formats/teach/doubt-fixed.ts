import type { Segment } from './align-spans.ts';
import { isForeignUnit, unitRefusal } from './foreign-units.ts';
import { isAxisName, knownMeaning } from './known-texts.ts';

/** Words that name what follows; none of them is a unit, a sign or a status. */
const LABELS: ReadonlySet<string> = new Set(
  'axis ch chan channel count value val pos position reading dial unit units data no nr time date t'.split(
    ' ',
  ),
);
/** Units of time, where they stand behind something that is not the number. */
const TIMES: ReadonlySet<string> = new Set(['s', 'ms', 'us']);
/** Characters that only separate. */
const SEPARATES = /^[\s,;:|{}[\]"'/._@\d]$/;
/** Words, one other character at a time; spaces belong to nothing. */
const PIECES = /[A-Za-z\u0080-\u00ff]+|[^\sA-Za-z\u0080-\u00ff]/g;
/** The three bytes that U+2212, the minus of typesetters, is sent as. */
const LONG_MINUS = '\u00e2\u0088\u0092';

interface Place {
  text: string;
  before: Segment | undefined;
  behind: Segment | undefined;
}

/**
 * What stands still in every captured line and could be a unit, a sign, a status or a part of the number: every word
 * and symbol is one that is known to say nothing of the kind, or it is asked about, because the lines alone do not
 * tell. `123.4 um` was taught as 123.4 mm, and lines that were all negative, `0.123-`, lost their sign. Empty: nothing
 * is doubtful.
 */
export function doubtsBeside(line: readonly Segment[]): string[] {
  const segments = unframed(line);
  const doubts = segments.flatMap((segment, index) => {
    const place = {
      text: segment.text,
      before: segments[index - 1],
      behind: segments[index + 1],
    };
    if (segment.means === 'fixed') return doubtsIn(place);
    if (segment.means === 'number') {
      const before = segments.slice(0, index).map(({ text }) => text);
      return thousandsDoubt(before.join(''), segment.text);
    }
    const refused = isForeignUnit(segment.text) && refusable(segment);
    return refused ? [unitRefusal(segment.text)] : [];
  });
  return [...new Set(doubts)];
}

/** `<2|0.0125|RUN>`: a pair round the whole line frames it, and says nothing of the number. */
function unframed(segments: readonly Segment[]): readonly Segment[] {
  const [first, last] = [segments[0], segments.at(-1)];
  const isFramed =
    first?.means === 'fixed' &&
    last?.means === 'fixed' &&
    first !== last &&
    first.text.startsWith('<') &&
    last.text.endsWith('>');
  if (!isFramed) return segments;
  return [
    { ...first, text: first.text.slice(1) },
    ...segments.slice(1, -1),
    { ...last, text: last.text.slice(0, -1) },
  ];
}

/** Passed over or told as the other unit it would be the wrong number all the same. */
function refusable({ means }: Segment): boolean {
  return ['ignored', 'unit', 'status', 'channel', 'sign'].includes(means);
}

/** `1,234.5`: three digits behind a separator that follows a digit are the rest of a thousand. */
function thousandsDoubt(before: string, number: string): string[] {
  const thousands = /\d{1,3}[,.' ]$/.exec(before)?.[0];
  if (thousands === undefined || !/^\d{3}(?!\d)/.test(number)) return [];
  return [
    `"${thousands}" stands before the number in every line and may be its thousands: take lines below and above 1000.`,
  ];
}

function doubtsIn(place: Place): string[] {
  const { text } = place;
  if (text.includes(LONG_MINUS)) return [minusDoubt(LONG_MINUS)];
  return [...text.matchAll(PIECES)].flatMap((found) => {
    const [piece] = found;
    const doubt = /^[A-Za-z\u0080-\u00ff]/.test(piece)
      ? wordDoubt(piece, found.index, place)
      : symbolDoubt(piece, found.index, place);
    return doubt === null ? [] : [doubt];
  });
}

function wordDoubt(word: string, at: number, { text, before }: Place): string | null {
  const plain = word.toLowerCase();
  if (/^(neg|minus)$/.test(plain)) return minusDoubt(word);
  const behindNumber = before?.means === 'number' && text.slice(0, at).trim() === '';
  if (TIMES.has(plain) && before !== undefined && !behindNumber) return null;
  if (LABELS.has(plain) && !behindNumber) return null;
  // `X1.0 Y2.0`: the letter behind one number names the axis of the next one, and one that ends the line names none.
  const leads = /^["':= ]*[+-]?\s*$/.test(text.slice(at + word.length));
  if (isAxisName(word) && leads && !endsLine(text, at, word)) return null;
  if (isForeignUnit(word)) return unitRefusal(word);
  return sayDoubt(word);
}

function endsLine(text: string, at: number, word: string): boolean {
  return text.slice(at + word.length).trim() === '' && at === 0 && text === word;
}

function symbolDoubt(symbol: string, at: number, { text, before, behind }: Place): string | null {
  const isFirst = text.slice(0, at).trim() === '';
  const isLast = text.slice(at + 1).trim() === '';
  const touchesBefore = isFirst && before?.means === 'number';
  const touchesBehind = isLast && behind?.means === 'number';
  if (symbol === '-' || symbol === '+') {
    const inDate = /\d$/.test(text.slice(0, at)) && /^\d/.test(text.slice(at + 1));
    return inDate ? null : minusDoubt(symbol);
  }
  // One bracket may open the number and the other close it behind a unit.
  if (symbol === '(' || symbol === ')') return minusDoubt(symbol);
  if (symbol === '=') return behind === undefined || touchesBefore ? sayDoubt(symbol) : null;
  if (touchesBefore && /["'/]/.test(symbol)) {
    return symbol === '/' || !text.slice(at + 1).match(/["']/) ? sayDoubt(symbol) : null;
  }
  if (touchesBehind && symbol === '/') return sayDoubt(symbol);
  return SEPARATES.test(symbol) || symbol < ' ' ? null : sayDoubt(symbol);
}

function minusDoubt(text: string): string {
  return `"${shown(text)}" stands beside the number in every line and may be a minus: take lines of both signs, and mark it as the sign.`;
}

function sayDoubt(text: string): string {
  const unit = knownMeaning('unit', text) !== null;
  return unit
    ? `"${shown(text)}" beside the number may be its unit: mark it as the unit, or as passed over.`
    : `Say what "${shown(text)}" beside the number is: mark it as unit, status, sign, or as passed over. A unit of anything but length cannot be used.`;
}

/** Printable, and short. */
function shown(text: string): string {
  return text
    .replaceAll(LONG_MINUS, '\u2212')
    .replace(/[^\x20-\x7e\u00a0-\u00ff\u2212]/g, '.')
    .trim()
    .slice(0, 12);
}
