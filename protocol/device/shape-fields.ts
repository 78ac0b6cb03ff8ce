import Type from 'typebox';
import { closed } from '../check/schema-parts.ts';
import { LengthUnit } from '../quantity/units.ts';
import { ReadingStatus } from './reading.ts';

/** A map of a shape holds at most this many texts, so that looking one up is bounded work. */
const MOST_TEXTS = 64;
const bounded = { minProperties: 1, maxProperties: MOST_TEXTS };
const optional = Type.Optional(Type.Boolean());
const decimals = Type.Integer({ minimum: 0, maximum: 9 });

/** Where the decimal point stands: written in the text (fixed per shape, never from a locale), or implied. */
export const PointRule = Type.Union([
  Type.Object(
    {
      kind: Type.Literal('written'),
      mark: Type.Union([Type.Literal('.'), Type.Literal(',')]),
      wholeWithout: Type.Optional(
        Type.Boolean({ description: 'A whole number comes without its point, as in JSON' }),
      ),
    },
    closed,
  ),
  Type.Object({ kind: Type.Literal('implied'), decimals }, closed),
  Type.Object(
    { kind: Type.Literal('given by unit'), mm: decimals, in: decimals },
    { ...closed, description: 'Implied, and another one in millimetres than in inches' },
  ),
  Type.Object({ kind: Type.Literal('given by point field') }, closed),
]);
export type PointRule = Type.Static<typeof PointRule>;

/** What one bit of a flag says. The half digit is half of the last place, and is looked at in inches only. */
export const FlagMeaning = Type.Union([
  Type.Literal('minus'),
  Type.Literal('half digit'),
  LengthUnit,
  ReadingStatus,
]);
export type FlagMeaning = Type.Static<typeof FlagMeaning>;

export const ChecksumRule = Type.Union([
  Type.Literal('sum'),
  Type.Literal('negative sum'),
  Type.Literal('xor'),
  Type.Literal('crc-8'),
  Type.Literal('crc-16/modbus'),
  Type.Literal('crc-16/xmodem'),
]);
export type ChecksumRule = Type.Static<typeof ChecksumRule>;
export const CHECKSUM_RULES = ChecksumRule.anyOf.map((rule) => rule.const);

/**
 * One piece of a frame, left to right. Matching is by length and character, never by a user's regular
 * expression, and never goes back, so no shape can hang the service. In a packed frame the characters are
 * its half bytes, written 0 to f.
 */
export const ShapeField = Type.Union([
  Type.Object(
    {
      kind: Type.Literal('literal'),
      text: Type.String({ minLength: 1, maxLength: 32 }),
      optional,
    },
    closed,
  ),
  Type.Object(
    { kind: Type.Literal('spaces'), atLeast: Type.Integer({ minimum: 0, maximum: 16 }) },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('ignore'),
      characters: Type.Integer({ minimum: 1, maximum: 200 }),
      upTo: Type.Optional(
        Type.String({
          minLength: 1,
          maxLength: 1,
          description: 'Up to and without this character, at most `characters`; else exactly those',
        }),
      ),
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('sign'),
      map: Type.Record(
        Type.String({ minLength: 1, maxLength: 2 }),
        Type.Union([Type.Literal(1), Type.Literal(-1)]),
        bounded,
      ),
      optional: Type.Optional(Type.Boolean({ description: 'Absent means plus' })),
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('digits'),
      atLeast: Type.Integer({ minimum: 1, maximum: 12 }),
      atMost: Type.Integer({ minimum: 1, maximum: 12 }),
      point: PointRule,
      lowestFirst: Type.Optional(Type.Boolean({ description: 'The last place is sent first' })),
      absent: Type.Optional(
        Type.String({
          minLength: 1,
          maxLength: 1,
          description: 'A run of this character instead: nothing is there, which is not nought',
        }),
      ),
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('count'),
      hexDigits: Type.Integer({ minimum: 2, maximum: 8 }),
      lowByteFirst: Type.Optional(Type.Boolean()),
      negative: Type.Union([
        Type.Literal('never'),
        Type.Literal('twos complement'),
        Type.Literal('top bit'),
      ]),
      perUnit: Type.Object(
        {
          mm: Type.Optional(Type.Integer({ minimum: 1, maximum: 10_000_000 })),
          in: Type.Optional(Type.Integer({ minimum: 1, maximum: 10_000_000 })),
        },
        { ...closed, minProperties: 1, description: 'Counts per millimetre, per inch' },
      ),
    },
    { ...closed, description: 'A binary count, as hexadecimal characters or packed' },
  ),
  Type.Object(
    {
      kind: Type.Literal('flags'),
      hexDigits: Type.Union([Type.Literal(1), Type.Literal(2)]),
      bits: Type.Array(
        Type.Object(
          {
            bit: Type.Integer({ minimum: 0, maximum: 7, description: '0 is the lowest' }),
            set: Type.Optional(FlagMeaning),
            clear: Type.Optional(FlagMeaning),
          },
          closed,
        ),
        { minItems: 1, maxItems: 8 },
      ),
      others: Type.Union([Type.Literal('nought'), Type.Literal('anything')], {
        description: 'The bits that are not named',
      }),
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('checksum'),
      rule: ChecksumRule,
      of: Type.Union([Type.Literal('from the start'), Type.Literal('after the start')], {
        description: 'With or without the start character; up to where the checksum stands',
      }),
      lowByteFirst: Type.Optional(Type.Boolean()),
    },
    {
      ...closed,
      description: 'Two hexadecimal characters or packed half bytes, four for a crc-16',
    },
  ),
  Type.Object(
    {
      kind: Type.Literal('unit'),
      map: Type.Record(Type.String({ minLength: 1, maxLength: 8 }), LengthUnit, bounded),
      optional,
    },
    closed,
  ),
  Type.Object(
    { kind: Type.Literal('unit is'), unit: LengthUnit },
    { ...closed, description: 'Takes nothing: every device of this shape counts in this unit' },
  ),
  Type.Object(
    {
      kind: Type.Literal('status'),
      map: Type.Record(Type.String({ minLength: 1, maxLength: 12 }), ReadingStatus, bounded),
      optional,
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('channel'),
      allowed: Type.Array(Type.String({ minLength: 1, maxLength: 8 }), {
        minItems: 1,
        maxItems: MOST_TEXTS,
      }),
      optional,
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('channel is'),
      channel: Type.String({ minLength: 1, maxLength: 8 }),
    },
    { ...closed, description: 'Takes nothing: the place in the frame says which axis it is' },
  ),
  Type.Object(
    {
      kind: Type.Literal('counter'),
      atLeast: Type.Integer({ minimum: 1 }),
      atMost: Type.Integer({ maximum: 9 }),
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('point'),
      map: Type.Record(Type.String({ minLength: 1, maxLength: 1 }), decimals, {
        ...bounded,
        description: 'Character to number of decimals of the digits field',
      }),
    },
    closed,
  ),
  Type.Object(
    { kind: Type.Literal('next axis') },
    {
      ...closed,
      description:
        'Takes nothing: what follows is another reading of the same frame. A unit or status said once is for all',
    },
  ),
]);
export type ShapeField = Type.Static<typeof ShapeField>;
export type ShapeFieldOf<K extends ShapeField['kind']> = Extract<ShapeField, { kind: K }>;
