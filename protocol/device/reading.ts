import Type from 'typebox';
import { LengthUnit } from '../quantity/units.ts';

export const ReadingStatus = Type.Union(
  [
    Type.Literal('ok'),
    Type.Literal('hold'),
    Type.Literal('over range'),
    Type.Literal('low battery'),
    Type.Literal('peak mode'),
    Type.Literal('error'),
  ],
  {
    description:
      'What the device said of this reading. Only "ok" and "low battery" may be measured with; the others are shown, never used.',
  },
);
export type ReadingStatus = Type.Static<typeof ReadingStatus>;

/** Characters of a device's own text that are kept and sent. */
export const LONGEST_TEXT = 256;

/**
 * One whole frame of one device, understood. `value` is null where the device said something that is
 * not a number (over range, error): absent is not zero.
 */
export const Reading = Type.Object(
  {
    sequence: Type.Integer({
      minimum: 0,
      description: 'Counts the readings of one link since it was opened',
    }),
    atMs: Type.Number({
      description: 'Monotonic clock of the service at arrival of the last byte, milliseconds',
    }),
    text: Type.String({
      maxLength: LONGEST_TEXT,
      description: 'The frame as it came, control bytes escaped',
    }),
    channel: Type.Union([Type.String(), Type.Null()], {
      description: 'Channel or axis tag the frame carried',
    }),
    value: Type.Union([Type.Number(), Type.Null()], {
      description: 'Number on the device display, in unit',
    }),
    unit: LengthUnit,
    valueMm: Type.Union([Type.Number(), Type.Null()]),
    decimals: Type.Integer({
      minimum: 0,
      maximum: 9,
      description: 'Digits after the point, as sent',
    }),
    status: ReadingStatus,
  },
  { additionalProperties: false },
);
export type Reading = Type.Static<typeof Reading>;

/** True if the reading may be measured with. */
export function isUsable(
  reading: Reading,
): reading is Reading & { value: number; valueMm: number } {
  return reading.valueMm !== null && (reading.status === 'ok' || reading.status === 'low battery');
}
