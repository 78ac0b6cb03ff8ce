import type { SpanMeaning, TeachQuestion } from '@taptrue/protocol';

/** What a span can be, in the order in which it is asked for. */
export const MEANINGS: readonly { means: SpanMeaning | 'fixed'; word: string; note: string }[] = [
  { means: 'number', word: 'the number', note: 'with its sign and point' },
  { means: 'unit', word: 'the unit', note: 'mm, in, or a code for it' },
  { means: 'channel', word: 'channel or axis', note: 'X, 01, 02A' },
  { means: 'status', word: 'status', note: 'hold, maximum, low battery' },
  { means: 'sign', word: 'the sign apart', note: 'where it is not + or − in front' },
  { means: 'point', word: 'place of the point', note: 'a digit that says how many decimals' },
  { means: 'counter', word: 'a counter', note: 'counts the lines' },
  { means: 'ignored', word: 'passed over', note: 'a time, anything that changes' },
  { means: 'fixed', word: 'always the same', note: 'takes a mark away' },
];

/** Only where bytes are taught. */
export const BYTE_MEANINGS: readonly { means: SpanMeaning; word: string; note: string }[] = [
  { means: 'flags', word: 'flags', note: 'bits that say minus, unit, battery' },
  { means: 'checksum', word: 'the check sum', note: 'worked out from the rest' },
];

export const MEANS_WORD: Readonly<Record<SpanMeaning, string>> = {
  number: 'number',
  sign: 'sign',
  unit: 'unit',
  channel: 'channel',
  status: 'status',
  counter: 'counter',
  point: 'point',
  flags: 'flags',
  checksum: 'check sum',
  ignored: 'passed over',
};

/** What a text of a span may stand for. */
export const TEXT_CHOICES: Readonly<Partial<Record<SpanMeaning, readonly string[]>>> = {
  unit: ['mm', 'in'],
  sign: ['plus', 'minus'],
  status: ['ok', 'hold', 'peak mode', 'over range', 'low battery', 'error'],
  point: ['0', '1', '2', '3', '4', '5', '6'],
};

/** What one bit of a flag may say when it is set. */
export const BIT_CHOICES = [
  'minus',
  'half digit',
  'mm',
  'in',
  'hold',
  'over range',
  'low battery',
  'error',
] as const;

export const WHOLE_LINE_CHOICES = [
  'passed over',
  'error',
  'over range',
  'hold',
  'low battery',
] as const;

/** Nothing captured, nothing told. */
export function emptyQuestion(): TeachQuestion {
  return {
    captured: '',
    fromPort: false,
    form: 'lines',
    frameBytes: null,
    recordLines: 1,
    line: 0,
    marks: null,
    meanings: [],
    wholeLines: [],
    number: { kind: 'digits', decimals: null, lowestFirst: false },
    unit: null,
    screenSaid: [],
    name: '',
    title: '',
    trigger: 'streams',
    request: null,
    port: null,
  };
}
