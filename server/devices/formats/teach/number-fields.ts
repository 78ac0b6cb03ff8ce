import type { PointRule, ShapeField } from '@taptrue/protocol';
import type { Segment } from './align-spans.ts';
import type { BuildFrom } from './build-from.ts';

/** Digits of the longest display and two to spare. */
const MOST_DIGITS = 10;

/** The fields of a marked number: its spaces, its sign where that is not marked apart, its digits. */
export function numberFields(
  segment: Segment,
  index: number,
  from: BuildFrom,
  needs: string[],
): ShapeField[] {
  const { segments, question } = from;
  if (question.number.kind === 'count') return [countField(segment, from)];
  const bare = segment.text.replace(/^[ +-]+/, '');
  const fields: ShapeField[] = [];
  const signApart = segments.some(({ means }) => means === 'sign' || means === 'flags');
  const isText = question.form === 'lines';
  const padded = [segment.text, ...(from.seen[index] ?? [])].some((text) => text.startsWith(' '));
  if (isText && padded) fields.push({ kind: 'spaces', atLeast: 0 });
  if (isText && !signApart) fields.push(...signFields(index, from));
  const texts = from.seen[index] ?? [];
  const point = pointRule(bare, texts, from, needs);
  const digits = bare.replace(/[^0-9]/g, '').length;
  const isPacked = !isText || point.kind !== 'written' || touchesDigits(segments[index + 1]);
  fields.push({
    kind: 'digits',
    atLeast: isPacked ? Math.min(12, digits) : 1,
    atMost: isPacked ? Math.min(12, digits) : MOST_DIGITS,
    point,
    ...(question.number.lowestFirst ? { lowestFirst: true } : {}),
    ...(texts.some((text) => text.includes('*')) ? { absent: '*' } : {}),
  });
  return fields;
}

/** The sign stands before the digits: a plus that is always sent is asked for, else minus alone is enough. */
function signFields(index: number, from: BuildFrom): ShapeField[] {
  const seen = from.seen[index] ?? [];
  const always = seen.length > 0 && seen.every((text) => /^\s*[+-]/.test(text));
  const spaced = seen.some((text) => /[+-]\s+\d/.test(text));
  const sign: ShapeField = {
    kind: 'sign',
    map: { '+': 1, '-': -1 },
    ...(always && seen.some((text) => text.includes('+')) ? {} : { optional: true }),
  };
  return spaced ? [sign, { kind: 'spaces', atLeast: 0 }] : [sign];
}

function pointRule(
  bare: string,
  texts: readonly string[],
  { segments, question, decimalsSaid }: BuildFrom,
  needs: string[],
): PointRule {
  const mark = /[.,]/.exec(bare)?.[0];
  if (mark === '.' || mark === ',') {
    needs.push(...doubtsOfNumber(mark, texts, question.screenSaid));
    const whole = texts.some((text) => /^[ +-]*\d+$/.test(text));
    return { kind: 'written', mark, ...(whole ? { wholeWithout: true } : {}) };
  }
  if (segments.some(({ means }) => means === 'point')) return { kind: 'given by point field' };
  const decimals = question.number.decimals ?? decimalsSaid;
  if (decimals === null) {
    needs.push(
      'The number has no point: type what the device’s screen showed with one of the lines.',
    );
  }
  return { kind: 'implied', decimals: decimals ?? 0 };
}

/** What the digits alone do not tell: a comma before three of them, and a display full of nines. */
function doubtsOfNumber(
  mark: '.' | ',',
  texts: readonly string[],
  screenSaid: readonly string[],
): string[] {
  const plain = texts.map((text) => text.replace(/^[\s+-]+/, ''));
  const thousands =
    mark === ',' && plain.length > 0 && plain.every((text) => /^[1-9]\d{0,2},\d{3}$/.test(text));
  const nines = plain.find((text) => /^9{3,}[.,]?9{2,}$/.test(text));
  return [
    ...(thousands && screenSaid.every((said) => said.trim() === '')
      ? [
          `"${plain[0]}" may be a thousand, or one and a bit: type what the device\u2019s screen showed with one of the lines.`,
        ]
      : []),
    ...(nines === undefined
      ? []
      : [
          `"${nines}" may be what the device sends when it is out of its range: say so of the whole line, or leave it out.`,
        ]),
  ];
}

function countField(segment: Segment, from: BuildFrom): ShapeField {
  const { segments, question, decimalsSaid, negative } = from;
  const signApart = segments.some(({ means }) => means === 'sign' || means === 'flags');
  const decimals = question.number.decimals ?? decimalsSaid ?? 0;
  return {
    kind: 'count',
    hexDigits: Math.min(8, segment.text.length),
    lowByteFirst: question.number.lowestFirst,
    negative: signApart ? 'never' : negative,
    perUnit: { [question.unit ?? 'mm']: 10 ** Math.min(7, decimals) },
  };
}

function touchesDigits(next: Segment | undefined): boolean {
  return next !== undefined && /^[0-9]/.test(next.text);
}
