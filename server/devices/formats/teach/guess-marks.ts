import type { Mark, SpanMeaning } from '@taptrue/protocol';
import { isAxisName, knownMeaning } from './known-texts.ts';

interface Token {
  from: number;
  to: number;
  text: string;
}

/** Behind a number: a comma, spaces and a word may follow. */
const UNIT_BEHIND = /^\s*,?\s*([A-Za-z"']+)/;
/** In front of a number: `X=`, `"x":`, `02A`. */
const CHANNEL_BEFORE = /(?:^|[^A-Za-z0-9])(\d{2}[A-D]|[A-CU-Za-cu-z])(?=["=: ]*[+-]?\s*$)/;

/**
 * A first guess at what the spans of the first line are, from how the lines differ: what changes and has a point is
 * the number, known words are unit and status, what counts up is a counter. The rest is always the same, or is
 * passed over where it changes.
 */
export function guessMarks(bodies: readonly string[]): Mark[] {
  const [line = ''] = bodies;
  const all = bodies.map(numbersIn);
  const numbers = all[0] ?? [];
  const varies = numbers.map((_, index) => differ(all.map((tokens) => tokens[index]?.text)));
  const scores = numbers.map((token, index) => scoreOf(line, token, varies[index] ?? false));
  const best = Math.max(...scores);
  const marks: Mark[] = [];
  const mark = (token: Token, means: SpanMeaning) => {
    const free = marks.every(({ from, to }) => token.to <= from || token.from >= to);
    if (free && token.to > token.from) marks.push({ from: token.from, to: token.to, means });
  };
  const isNumber = (index: number) =>
    scores[index] === best || (isPointed(numbers[index]!) && varies[index] && scores[index]! > 4);
  for (const [index, token] of numbers.entries()) {
    if (!isNumber(index)) continue;
    mark(token, 'number');
    const unit = UNIT_BEHIND.exec(line.slice(token.to));
    // `"99.1"`: the mark behind is the end of a quotation, not inches.
    const isQuoted =
      /["'][+-]?\s*$/.test(line.slice(0, token.from)) && /["']/.test(unit?.[1] ?? '');
    if (unit?.[1] && !isQuoted && knownMeaning('unit', unit[1])) {
      const to = token.to + unit[0].length;
      mark({ from: to - unit[1].length, to, text: unit[1] }, 'unit');
    }
    const before = Math.max(0, ...marks.map(({ to }) => (to <= token.from ? to : 0)));
    const channel = CHANNEL_BEFORE.exec(line.slice(0, token.from));
    if (channel?.[1]) {
      const from = channel.index + channel[0].length - channel[1].length;
      if (from >= before) mark({ from, to: from + channel[1].length, text: channel[1] }, 'channel');
    }
  }
  for (const [index, token] of numbers.entries()) {
    const column = all.map((tokens) => tokens[index]?.text ?? '');
    const around = wholeToken(line, token);
    const standsAlone = around.text === token.text;
    const hasChannel = marks.some(({ means }) => means === 'channel');
    if (standsAlone && countsUp(column)) mark(token, 'counter');
    else if (standsAlone && !hasChannel && column.every(isShortTag)) mark(token, 'channel');
    else if (varies[index] || /\d:\d/.test(around.text)) mark(around, 'ignored');
  }
  markWords(bodies, mark, marks);
  return marks.sort((one, other) => one.from - other.from);
}

function numbersIn(line: string): Token[] {
  const tokens: Token[] = [];
  for (const found of line.matchAll(/\d*[.,]?\d+(?:[.,]\d+)*/g)) {
    const { index } = found;
    const [text] = found;
    // `017,0.0021` is two numbers; `1,30` is one with a decimal comma.
    const several = text.includes('.') && text.includes(',');
    let from = index;
    for (const piece of several ? text.split(',') : [text]) {
      if (piece !== '') tokens.push({ from, to: from + piece.length, text: piece });
      from += piece.length + 1;
    }
  }
  return tokens;
}

function isPointed({ text }: Token): boolean {
  return /[.,]/.test(text);
}

function scoreOf(line: string, token: Token, varies: boolean): number {
  const behind = line.slice(token.to);
  const before = line.slice(0, token.from);
  const word = UNIT_BEHIND.exec(behind)?.[1];
  const hasUnit = word !== undefined && knownMeaning('unit', word) !== null;
  const inTime =
    /\d:$/.test(before) || (/^[A-Za-z]/.test(behind) && !hasUnit) || /^:\d/.test(behind);
  return (
    (isPointed(token) ? 4 : 0) +
    (varies ? 3 : 0) +
    (/[+-]\s*$/.test(before) ? 2 : 0) +
    (hasUnit ? 2 : 0) +
    (token.text.length > 3 ? 1 : 0) -
    (inTime ? 6 : 0)
  );
}

/**
 * Words of which one at least is a known status are statuses in every line; the same for a unit where none stands
 * behind the number. A word that changes and is neither is a status that must be told: stability letters were taken
 * for a channel, and half the lines were then lost. Only the name of an axis is a channel.
 */
function markWords(
  bodies: readonly string[],
  mark: (token: Token, means: SpanMeaning) => void,
  marks: readonly Mark[],
): void {
  const words = bodies.map((body) =>
    [...body.matchAll(/(?<![A-Za-z0-9])[A-Za-z]{2,8}(?![A-Za-z0-9])/g)].map(
      ({ 0: text, index }) => ({ from: index, to: index + text.length, text }),
    ),
  );
  const has = (means: SpanMeaning) => marks.some((one) => one.means === means);
  for (const [index, token] of (words[0] ?? []).entries()) {
    const column = words.map((line) => line[index]?.text ?? '').filter((text) => text !== '');
    const knows = (span: SpanMeaning) => column.some((text) => knownMeaning(span, text) !== null);
    if (knows('status')) mark(token, 'status');
    else if (!has('unit') && column.every((text) => knownMeaning('unit', text) !== null)) {
      mark(token, 'unit');
    } else if (differ(column)) {
      mark(token, !has('channel') && column.every(namesAxis) ? 'channel' : 'status');
    }
  }
}

/** The token between separators that a number is part of: a whole time, not its seconds alone. */
function wholeToken(line: string, { from, to }: Token): Token {
  const before = /[\w.:+-]*$/.exec(line.slice(0, from))?.[0] ?? '';
  const behind = /^[\w.:+-]*/.exec(line.slice(to))?.[0] ?? '';
  return {
    from: from - before.length,
    to: to + behind.length,
    text: line.slice(from - before.length, to + behind.length),
  };
}

function differ(texts: readonly (string | undefined)[]): boolean {
  return new Set(texts).size > 1;
}

function namesAxis(text: string): boolean {
  return isAxisName(text.replace(/(act|pos)$/i, ''));
}

function countsUp(column: readonly string[]): boolean {
  if (column.length < 3 || column.some((text) => !/^\d+$/.test(text))) return false;
  const steps = column.slice(1).map((text, index) => Number(text) - Number(column[index]));
  return steps.every((step) => step > 0 && step === steps[0]);
}

function isShortTag(text: string): boolean {
  return /^\d{1,2}$/.test(text);
}
