import Type from 'typebox';
import { ReadingStatus } from './reading.ts';
import { closed } from './schema-parts.ts';
import { LengthUnit } from './units.ts';

/**
 * How the bytes are cut into frames. Text shapes end at a terminator; `start` (one byte, e.g. STX) means
 * that everything before it is not part of the frame. `fixedBytes` is for frames that are known by a
 * start byte and a length and may hold anything between.
 */
export const Framing = Type.Object(
  {
    terminator: Type.Union(
      [Type.Literal('any newline'), Type.String({ minLength: 1, maxLength: 4 })],
      {
        description: '"any newline" accepts CR LF, CR or LF; otherwise the exact characters',
      },
    ),
    start: Type.Optional(
      Type.String({ minLength: 1, maxLength: 1, description: 'Start character, e.g. STX' }),
    ),
    fixedBytes: Type.Optional(
      Type.Integer({
        minimum: 2,
        maximum: 64,
        description: 'Characters between start and terminator',
      }),
    ),
    longestBytes: Type.Integer({ minimum: 4, maximum: 256 }),
  },
  closed,
);
export type Framing = Type.Static<typeof Framing>;

/** Where the decimal point stands: written in the text (fixed per shape, never from a locale), or implied. */
export const PointRule = Type.Union([
  Type.Object(
    { kind: Type.Literal('written'), mark: Type.Union([Type.Literal('.'), Type.Literal(',')]) },
    closed,
  ),
  Type.Object(
    { kind: Type.Literal('implied'), decimals: Type.Integer({ minimum: 0, maximum: 9 }) },
    closed,
  ),
  Type.Object({ kind: Type.Literal('given by point field') }, closed),
]);
export type PointRule = Type.Static<typeof PointRule>;

/**
 * One piece of a frame, left to right. Matching is by length and character, never by a user's regular
 * expression, so no shape can hang the service.
 */
export const ShapeField = Type.Union([
  Type.Object(
    {
      kind: Type.Literal('literal'),
      text: Type.String({ minLength: 1, maxLength: 32 }),
      optional: Type.Optional(Type.Boolean()),
    },
    closed,
  ),
  Type.Object(
    { kind: Type.Literal('spaces'), atLeast: Type.Integer({ minimum: 0, maximum: 16 }) },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('sign'),
      map: Type.Record(
        Type.String({ minLength: 1, maxLength: 2 }),
        Type.Union([Type.Literal(1), Type.Literal(-1)]),
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
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('unit'),
      map: Type.Record(Type.String({ minLength: 1, maxLength: 8 }), LengthUnit),
      optional: Type.Optional(Type.Boolean()),
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('status'),
      map: Type.Record(Type.String({ minLength: 1, maxLength: 12 }), ReadingStatus),
      optional: Type.Optional(Type.Boolean()),
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal('channel'),
      allowed: Type.Array(Type.String({ minLength: 1, maxLength: 8 }), {
        minItems: 1,
        maxItems: 64,
      }),
      optional: Type.Optional(Type.Boolean()),
    },
    closed,
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
      map: Type.Record(
        Type.String({ minLength: 1, maxLength: 1 }),
        Type.Integer({ minimum: 0, maximum: 9 }),
        {
          description: 'Character to number of decimals of the digits field',
        },
      ),
    },
    closed,
  ),
]);
export type ShapeField = Type.Static<typeof ShapeField>;

/** A frame that stands for something other than a number, as a whole: `X= ******`, `ERR`. */
export const SpecialFrame = Type.Object(
  {
    text: Type.String({ minLength: 1, maxLength: 64 }),
    status: ReadingStatus,
    channel: Type.Optional(Type.String()),
  },
  closed,
);
export type SpecialFrame = Type.Static<typeof SpecialFrame>;

export const PortSettings = Type.Object(
  {
    baudRate: Type.Integer({ minimum: 110, maximum: 4_000_000 }),
    dataBits: Type.Union([Type.Literal(7), Type.Literal(8)]),
    parity: Type.Union([Type.Literal('none'), Type.Literal('even'), Type.Literal('odd')]),
    stopBits: Type.Union([Type.Literal(1), Type.Literal(2)]),
  },
  closed,
);
export type PortSettings = Type.Static<typeof PortSettings>;

/** A sample of the shape: bytes (Latin-1, as text) and what they must be understood as. Run at load. */
export const ShapeSample = Type.Object(
  {
    frame: Type.String({ minLength: 1, maxLength: 256, description: 'With start and terminator' }),
    value: Type.Union([Type.Number(), Type.Null()]),
    decimals: Type.Optional(Type.Integer()),
    unit: Type.Union([LengthUnit, Type.Null()], {
      description: 'Null where the frame carries no unit',
    }),
    status: ReadingStatus,
    channel: Type.Union([Type.String(), Type.Null()]),
  },
  closed,
);
export type ShapeSample = Type.Static<typeof ShapeSample>;

/**
 * The declarative description of one device family's text. Everything that differs between devices is in
 * here; nothing in the code branches on a shape's name.
 */
export const LineShape = Type.Object(
  {
    name: Type.String({ pattern: '^[a-z][a-z0-9-]*$', maxLength: 40 }),
    title: Type.String({ maxLength: 80 }),
    framing: Framing,
    fields: Type.Array(ShapeField, { minItems: 1, maxItems: 32 }),
    specials: Type.Array(SpecialFrame, { maxItems: 16 }),
    trigger: Type.Union(
      [Type.Literal('streams'), Type.Literal('asked'), Type.Literal('its own key')],
      {
        description:
          'When the device sends: by itself, when asked, or when its key or foot switch is pressed',
      },
    ),
    request: Type.Union([
      Type.Object(
        {
          text: Type.String({ minLength: 1, maxLength: 16 }),
          everyMs: Type.Integer({ minimum: 20, maximum: 10_000 }),
        },
        closed,
      ),
      Type.Null(),
    ]),
    signals: Type.Object({ dtr: Type.Boolean(), rts: Type.Boolean() }, closed),
    port: PortSettings,
    samples: Type.Array(ShapeSample, { minItems: 3, maxItems: 32 }),
  },
  closed,
);
export type LineShape = Type.Static<typeof LineShape>;
