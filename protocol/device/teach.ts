import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { LengthUnit } from '../quantity/units.ts';
import { LineShape, PortSettings } from './line-shape.ts';
import { ReadingStatus } from './reading.ts';
import { FlagMeaning } from './shape-fields.ts';

/** Half a page of the longest lines. */
const MOST_CAPTURED = 4096;

/** What a span of a captured line is. */
export const SpanMeaning = Type.Union([
  Type.Literal('number'),
  Type.Literal('sign'),
  Type.Literal('unit'),
  Type.Literal('channel'),
  Type.Literal('status'),
  Type.Literal('counter'),
  Type.Literal('point'),
  Type.Literal('flags'),
  Type.Literal('checksum'),
  Type.Literal('ignored'),
]);
export type SpanMeaning = Type.Static<typeof SpanMeaning>;

/** A marked span of the line that is taught from; what is not marked is always the same. */
export const Mark = Type.Object(
  {
    from: Type.Integer({ minimum: 0, maximum: 255 }),
    to: Type.Integer({ minimum: 1, maximum: 256, description: 'One past the last character' }),
    means: SpanMeaning,
    bits: Type.Optional(
      Type.Array(
        Type.Object({ bit: Type.Integer({ minimum: 0, maximum: 7 }), set: FlagMeaning }, closed),
        {
          maxItems: 8,
          description: 'Flags: what each bit says when it is set',
        },
      ),
    ),
  },
  closed,
);
export type Mark = Type.Static<typeof Mark>;

/** What a text of a marked span stands for, where that was told: `ALM` in the status is "error". */
export const TextMeaning = Type.Object(
  {
    span: SpanMeaning,
    text: Type.String({ minLength: 1, maxLength: 12 }),
    means: Type.String({ minLength: 1, maxLength: 20 }),
  },
  closed,
);
export type TextMeaning = Type.Static<typeof TextMeaning>;

/** Captured lines and what was told of them so far; nothing of it is kept. */
export const TeachQuestion = Type.Object(
  {
    captured: Type.String({
      maxLength: MOST_CAPTURED,
      description: 'Latin-1, one character a byte',
    }),
    fromPort: Type.Boolean({ description: 'The first line may have begun before: it is left out' }),
    form: Type.Union([Type.Literal('lines'), Type.Literal('bytes')]),
    frameBytes: Nullable(
      Type.Integer({ minimum: 3, maximum: 65, description: 'Bytes of one frame; null: guess' }),
    ),
    recordLines: Type.Integer({
      minimum: 1,
      maximum: 4,
      description: 'Lines that one reading takes',
    }),
    line: Type.Integer({ minimum: 0, maximum: 11, description: 'The line that the marks are on' }),
    marks: Nullable(Type.Array(Mark, { maxItems: 24 })),
    meanings: Type.Array(TextMeaning, { maxItems: 64 }),
    wholeLines: Type.Array(
      Type.Object(
        {
          text: Type.String({ minLength: 1, maxLength: 64 }),
          means: Type.Union([ReadingStatus, Type.Literal('passed over')]),
        },
        closed,
      ),
      {
        maxItems: 12,
        description: 'Lines that stand for something other than a number, as a whole',
      },
    ),
    number: Type.Object(
      {
        kind: Type.Union([Type.Literal('digits'), Type.Literal('count')]),
        decimals: Nullable(
          Type.Integer({ minimum: 0, maximum: 9, description: 'Where no point is sent' }),
        ),
        lowestFirst: Type.Boolean(),
      },
      closed,
    ),
    unit: Nullable(LengthUnit),
    screenSaid: Type.Array(Type.String({ maxLength: 24 }), {
      maxItems: 12,
      description: 'What the device’s own screen showed with each line; empty: not told',
    }),
    name: Type.String({ maxLength: 40 }),
    title: Type.String({ maxLength: 80 }),
    trigger: LineShape.properties.trigger,
    request: Nullable(Type.String({ minLength: 1, maxLength: 16 })),
    port: Nullable(PortSettings),
  },
  closed,
);
export type TeachQuestion = Type.Static<typeof TeachQuestion>;

/** One captured line as it is understood so far. */
export const TaughtLine = Type.Object(
  {
    text: Type.String({ description: 'Between start and line end; half bytes of bytes' }),
    reads: Type.String({ description: '−0.0125 mm, channel 2; empty where it is not understood' }),
    why: Type.String({ description: 'Why it is not understood, or not as the screen said' }),
    at: Nullable(Type.Integer({ description: 'The character at which it fails, from 0' })),
  },
  closed,
);
export type TaughtLine = Type.Static<typeof TaughtLine>;

export const TeachAnswer = Type.Object(
  {
    lines: Type.Array(TaughtLine),
    marks: Type.Array(Mark, { description: 'As told, or the first guess' }),
    texts: Type.Array(
      Type.Object(
        { span: SpanMeaning, text: Type.String(), means: Nullable(Type.String()) },
        closed,
      ),
      { description: 'Every text that was seen in a span that is looked up; null: not known' },
    ),
    needs: Type.Array(Type.String(), { description: 'What is still wanting, in words' }),
    frameBytes: Nullable(Type.Integer()),
    shape: Nullable(LineShape),
  },
  closed,
);
export type TeachAnswer = Type.Static<typeof TeachAnswer>;
