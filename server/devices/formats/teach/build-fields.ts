import type { ReadingStatus, ShapeField, SpanMeaning, TextMeaning } from '@taptrue/protocol';
import type { Segment } from './align-spans.ts';
import type { BuildFrom } from './build-from.ts';
import { doubtsBeside } from './doubt-fixed.ts';
import { knownMeaning, likeChannels } from './known-texts.ts';
import { numberFields } from './number-fields.ts';

export interface BuiltFields {
  fields: ShapeField[];
  /** Every text of a span that is looked up, with what it stands for; null: must be told. */
  texts: { span: SpanMeaning; text: string; means: string | null }[];
  needs: string[];
}

/** The fields of the shape, from the segments of one line and what stood in their places in the others. */
export function buildFields(from: BuildFrom): BuiltFields {
  const { segments, seen, question } = from;
  const built: BuiltFields = { fields: [], texts: [], needs: [] };
  const numbers = segments.flatMap(({ means }, index) => (means === 'number' ? [index] : []));
  const breaks = axisBreaks(segments, numbers);
  const hasUnit = segments.some(({ means }) => means === 'unit' || means === 'flags');
  const add = (...fields: ShapeField[]) => built.fields.push(...fields);
  if (numbers.length === 0) built.needs.push('Mark the number.');
  if (question.form === 'lines') built.needs.push(...doubtsBeside(segments));
  if (numbers.length > 1) add(...namedAxis(segments, [0, breaks[0] ?? segments.length], 1));
  for (const [index, segment] of segments.entries()) {
    const axis = breaks.indexOf(index);
    if (axis >= 0) {
      add({ kind: 'next axis' });
      add(...namedAxis(segments, [index, breaks[axis + 1] ?? segments.length], axis + 2));
    }
    const texts = seen[index] ?? [];
    if (segment.means === 'fixed') add(...fixedFields(segment.text));
    else if (segment.means === 'number') add(...numberFields(segment, index, from, built.needs));
    else add(...spanFields(segment, texts, { from, built, next: segments[index + 1] }));
  }
  if (!hasUnit && question.unit !== null) add({ kind: 'unit is', unit: question.unit });
  return built;
}

/** Before which segments another axis begins: behind a number and the unit or status that follow it. */
function axisBreaks(segments: readonly Segment[], numbers: readonly number[]): number[] {
  return numbers.slice(1).map((number, order) => {
    const before = numbers[order] ?? 0;
    let last = before;
    for (let at = before + 1; at < number; at += 1) {
      const means = segments[at]?.means;
      if (means === 'unit' || means === 'status') last = at;
    }
    return last + 1;
  });
}

/** An axis without a tag of its own is named by the letter in front of it, or by its number. */
function namedAxis(
  segments: readonly Segment[],
  [from, to]: [number, number],
  order: number,
): ShapeField[] {
  const axis = segments.slice(from, to);
  if (axis.some(({ means }) => means === 'channel')) return [];
  const number = axis.findIndex(({ means }) => means === 'number');
  const before = axis
    .slice(0, number)
    .map(({ text }) => text)
    .join('');
  const letter = /([A-Za-z])["=: ]*[+-]? *$/.exec(before)?.[1];
  return [{ kind: 'channel is', channel: letter ?? String(order) }];
}

function fixedFields(text: string): ShapeField[] {
  return (text.match(/ +|[^ ]{1,32}/g) ?? []).map((piece) =>
    piece.startsWith(' ') ? { kind: 'spaces', atLeast: 0 } : { kind: 'literal', text: piece },
  );
}

function spanFields(
  segment: Segment,
  texts: readonly string[],
  { from, built, next }: { from: BuildFrom; built: BuiltFields; next: Segment | undefined },
): ShapeField[] {
  const full = [...new Set(texts)].filter((text) => text !== '');
  const optional = texts.includes('') ? { optional: true } : {};
  const told = meaningsOf(segment.means as SpanMeaning, full, from.question.meanings, built);
  // Until every text is told the span is passed over, so that the rest of the line can be seen to be right.
  if (isLookedUp(segment.means) && told.length < full.length) {
    return [ignoredField(segment, full, next)];
  }
  switch (segment.means) {
    case 'sign': {
      const plain = full.every((text) => text === '+' || text === '-');
      const map = plain
        ? { '+': 1 as const, '-': -1 as const }
        : mapped(told, (means) => (means === 'minus' ? -1 : means === 'plus' ? 1 : null));
      return Object.keys(map).length === 0 ? [] : [{ kind: 'sign', map, ...optional }];
    }
    case 'unit': {
      const map = mapped(told, (means) => (means === 'mm' || means === 'in' ? means : null));
      return Object.keys(map).length === 0 ? [] : [{ kind: 'unit', map, ...optional }];
    }
    case 'status': {
      const map = mapped(told, (means) => means as ReadingStatus);
      return Object.keys(map).length === 0 ? [] : [{ kind: 'status', map, ...optional }];
    }
    case 'point': {
      const map = mapped(told, (means) => Number(means));
      return Object.keys(map).length === 0 ? [] : [{ kind: 'point', map }];
    }
    case 'channel':
      return [{ kind: 'channel', allowed: likeChannels(full), ...optional }];
    case 'counter':
      return [counterField(segment.text, next)];
    case 'flags':
      return flagsField(segment);
    case 'checksum':
      if (from.checksum !== null) return [{ kind: 'checksum', ...from.checksum }];
      built.needs.push('No checksum that is known here fits these lines; mark it as passed over.');
      return [];
    default:
      return [ignoredField(segment, full, next)];
  }
}

function isLookedUp(span: Segment['means']): boolean {
  return ['sign', 'unit', 'status', 'point'].includes(span);
}

function meaningsOf(
  span: SpanMeaning,
  texts: readonly string[],
  told: readonly TextMeaning[],
  built: BuiltFields,
): [text: string, means: string][] {
  if (!isLookedUp(span)) return [];
  return texts.flatMap((text) => {
    const own = told.find((one) => one.span === span && one.text === text)?.means;
    const means = own ?? knownMeaning(span, text);
    built.texts.push({ span, text, means });
    if (means !== null) return [[text, means] as [string, string]];
    built.needs.push(`Say what "${text}" means as ${span}.`);
    return [];
  });
}

function mapped<T>(
  told: readonly (readonly [string, string])[],
  read: (means: string) => T | null,
): Record<string, T> {
  const map: Record<string, T> = {};
  for (const [text, means] of told) {
    const value = read(means);
    if (value !== null) map[text] = value;
  }
  return map;
}

/** Packed against other digits a counter has its own width; else it grows. */
function counterField(text: string, next: Segment | undefined): ShapeField {
  const packed = next !== undefined && /^[0-9]/.test(next.text);
  const width = Math.min(9, text.length);
  return { kind: 'counter', atLeast: packed ? width : 1, atMost: packed ? width : 9 };
}

function flagsField({ text, mark }: Segment): ShapeField[] {
  const bits = (mark?.bits ?? []).map(({ bit, set }) => ({
    bit,
    set,
    ...(set === 'mm' ? { clear: 'in' as const } : set === 'in' ? { clear: 'mm' as const } : {}),
  }));
  if (bits.length === 0) return [{ kind: 'ignore', characters: text.length }];
  return [{ kind: 'flags', hexDigits: text.length > 1 ? 2 : 1, bits, others: 'nought' }];
}

function ignoredField(
  segment: Segment,
  texts: readonly string[],
  next: Segment | undefined,
): ShapeField {
  const widths = new Set(texts.map((text) => text.length));
  if (next?.means === 'fixed' && widths.size > 1) {
    return { kind: 'ignore', characters: 40, upTo: next.text.charAt(0) };
  }
  return { kind: 'ignore', characters: segment.text.length };
}
