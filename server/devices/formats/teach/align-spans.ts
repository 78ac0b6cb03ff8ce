import type { Mark } from '@taptrue/protocol';

/** A piece of the line that is taught from: marked, or always the same. */
export interface Segment {
  means: Mark['means'] | 'fixed';
  text: string;
  mark: Mark | null;
}

/** Longest text of a span that is looked up; longer is no unit or status. */
const LONGEST_SPAN = 200;

/** The whole line as segments, marks that overlap an earlier one left out. */
export function segmentsOf(body: string, marks: readonly Mark[]): Segment[] {
  const segments: Segment[] = [];
  let at = 0;
  for (const mark of [...marks].sort((one, other) => one.from - other.from)) {
    if (mark.from < at || mark.to > body.length || mark.to <= mark.from) continue;
    if (mark.from > at) segments.push(fixed(body.slice(at, mark.from)));
    segments.push({ means: mark.means, text: body.slice(mark.from, mark.to), mark });
    at = mark.to;
  }
  if (at < body.length) segments.push(fixed(body.slice(at)));
  return segments;
}

/**
 * Marks of numbers drawn over the sign in front of them, where that is not marked apart: left outside, it would be
 * taken for a character that is always the same.
 */
export function withSigns(body: string, marks: readonly Mark[]): Mark[] {
  if (marks.some(({ means }) => means === 'sign')) return [...marks];
  return marks.map((mark) => {
    if (mark.means !== 'number') return mark;
    const sign = /(?<!\d)[+-] *$/.exec(body.slice(0, mark.from));
    const taken = sign !== null && marks.some(({ to }) => to > sign.index && to <= mark.from);
    return sign === null || taken ? mark : { ...mark, from: sign.index };
  });
}

const fixed = (text: string): Segment => ({ means: 'fixed', text, mark: null });

/**
 * The text of every segment in another line, found by what stands around it. Shorter than the segments where the
 * line goes another way.
 */
export function alignSpans(segments: readonly Segment[], body: string): string[] {
  const texts: string[] = [];
  let at = 0;
  for (const [index, segment] of segments.entries()) {
    const text = takeSpan(segment, segments[index + 1], body.slice(at));
    if (text === null) return texts;
    texts.push(text);
    at += text.length;
  }
  return texts;
}

function takeSpan(segment: Segment, next: Segment | undefined, rest: string): string | null {
  if (segment.means === 'fixed') return takeFixed(segment.text, rest);
  if (segment.means === 'number' && isLoose(next)) {
    return numberLike(segment.text).exec(rest)?.[0] ?? null;
  }
  if (segment.means === 'sign' && /^[+-]$/.test(segment.text) && !/^[+-]/.test(rest)) return '';
  const length = spanLength(segment, next, rest);
  return rest.length < length ? null : rest.slice(0, length);
}

/** A number written as this one is: its mark, or its hexadecimal digits; stars where none is there. */
function numberLike(text: string): RegExp {
  if (text.includes('.')) return /^\s*[+-]?\s*(?:\*+|\d*\.?\d+)/;
  if (text.includes(',')) return /^\s*[+-]?\s*(?:\*+|\d*,?\d+)/;
  return /[a-f]/i.test(text) ? /^[0-9a-f]+/i : /^\s*[+-]?\s*(?:\*+|\d+)/;
}

/** A number that ends where something else begins; packed against other digits it has its own width. */
function isLoose(next: Segment | undefined): boolean {
  if (next === undefined) return true;
  return next.means === 'fixed' ? !/^[0-9a-fA-F]/.test(next.text) : /^[^0-9a-fA-F]/.test(next.text);
}

function spanLength(segment: Segment, next: Segment | undefined, rest: string): number {
  const same = segment.text.length;
  if (next === undefined)
    return segment.means === 'ignored' || !/^\d+$/.test(segment.text) ? rest.length : same;
  if (next.means === 'fixed') {
    const found = rest.slice(0, LONGEST_SPAN).indexOf(next.text.charAt(0));
    return found < 0 ? same : found;
  }
  if (next.means === 'number' && /^[A-Za-z]+$/.test(segment.text)) {
    return /^[A-Za-z]+/.exec(rest)?.[0].length ?? same;
  }
  return same;
}

/** Spaces of any number stand for spaces; the rest must be the same. */
function takeFixed(text: string, rest: string): string | null {
  let at = 0;
  for (const piece of text.match(/ +|[^ ]+/g) ?? []) {
    if (piece.startsWith(' ')) while (rest[at] === ' ') at += 1;
    else if (rest.startsWith(piece, at)) at += piece.length;
    else return null;
  }
  return rest.slice(0, at);
}
