import Type from 'typebox';
import { closed } from '../check/schema-parts.ts';
import { LengthUnit } from '../quantity/units.ts';
import { ReadingStatus } from './reading.ts';
import { ShapeField } from './shape-fields.ts';

/** Fields of one shape; more is no line of a device. */
const MOST_FIELDS = 64;
/** Another number: written by a version whose shapes this one may misread. */
export const SHAPE_FILE_VERSION = 1;

/**
 * How the bytes are cut into frames. Text shapes end at a terminator; `start` (one byte, e.g. STX) means
 * that everything before it is not part of the frame. `fixedBytes` is for frames that are known by a
 * start byte and a length and may hold anything between. Frames without a line end have a length, and are
 * believed only by what is in them: fixed places that no shifted frame fits, or a checksum.
 */
export const Framing = Type.Object(
  {
    terminator: Type.Union(
      [
        Type.Literal('any newline'),
        Type.Literal('no line end'),
        Type.String({ minLength: 1, maxLength: 4 }),
      ],
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
    record: Type.Optional(
      Type.Object(
        {
          lines: Type.Integer({ minimum: 2, maximum: 8 }),
          begins: Type.String({
            minLength: 1,
            maxLength: 32,
            description: 'How the first line of a record begins, and no other one',
          }),
        },
        {
          ...closed,
          description: 'One reading is printed over several lines; fields see them joined by \\n',
        },
      ),
    ),
    skip: Type.Optional(
      Type.Array(Type.String({ minLength: 1, maxLength: 64 }), {
        maxItems: 16,
        description: 'Whole lines passed over: the request echoed, an OK, a title',
      }),
    ),
    longestBytes: Type.Integer({ minimum: 4, maximum: 256 }),
  },
  closed,
);
export type Framing = Type.Static<typeof Framing>;

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

const sampleReading = {
  value: Type.Union([Type.Number(), Type.Null()]),
  decimals: Type.Optional(Type.Integer()),
  unit: Type.Union([LengthUnit, Type.Null()], {
    description: 'Null where the frame carries no unit',
  }),
  status: ReadingStatus,
  channel: Type.Union([Type.String(), Type.Null()]),
};

/** A sample of the shape: bytes (Latin-1, as text) and what they must be understood as. Run at load. */
export const ShapeSample = Type.Object(
  {
    frame: Type.String({ minLength: 1, maxLength: 256, description: 'With start and terminator' }),
    ...sampleReading,
    also: Type.Optional(
      Type.Array(Type.Object(sampleReading, closed), {
        maxItems: 8,
        description: 'The further axes of the same frame, in their order',
      }),
    ),
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
    packed: Type.Optional(
      Type.Union([Type.Literal('high nibble first'), Type.Literal('low nibble first')], {
        description: 'The fields see half bytes, written 0 to f, instead of characters',
      }),
    ),
    fields: Type.Array(ShapeField, { minItems: 1, maxItems: MOST_FIELDS }),
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

/** A line shape as it is kept, exported and shared: one file, one shape. */
export const ShapeFile = Type.Object(
  { taptrueShape: Type.Literal(SHAPE_FILE_VERSION), shape: LineShape },
  closed,
);
export type ShapeFile = Type.Static<typeof ShapeFile>;
