import type { LengthUnit } from '@taptrue/protocol';

/** What a register map shows: the number on a display, in its unit; null: the display shows none. */
export type ShownNow = () => number | null;

/** One count of the whole number: 0.0001 mm or 0.00001 in, finer than any display here. */
export const COUNT: Readonly<Record<LengthUnit, number>> = { mm: 0.0001, in: 0.00001 };
/** The same number twice, in two registers each, high word first: counts, then a float. */
export const COUNTS_AT = 0;
export const FLOAT_AT = 2;
const REGISTERS = 4;
/** What one request may ask for, by the standard. */
const MOST_REGISTERS = 125;

const READ_HOLDING = 3;
const READ_INPUT = 4;
const NO_SUCH_FUNCTION = 1;
const NO_SUCH_REGISTER = 2;
const BAD_COUNT = 3;
/** The device failed while reading: it has no number to give. Absent is not zero. */
const DEVICE_FAILURE = 4;

/**
 * The answer to a request, both without unit and checksum: function and data. Functions 3 and 4 read the same
 * registers. Application protocol of the Modbus specification V1.1b3, 6.3, 6.4 and 7.
 */
export function answerTo(request: Uint8Array, shown: ShownNow, unit: LengthUnit): Uint8Array {
  const asked = Buffer.from(request);
  const code = asked[0] ?? 0;
  if (code !== READ_HOLDING && code !== READ_INPUT) return refusal(code, NO_SUCH_FUNCTION);
  const count = asked.length === 5 ? asked.readUInt16BE(3) : 0;
  if (count < 1 || count > MOST_REGISTERS) return refusal(code, BAD_COUNT);
  const address = asked.readUInt16BE(1);
  if (address + count > REGISTERS) return refusal(code, NO_SUCH_REGISTER);
  const value = shown();
  if (value === null) return refusal(code, DEVICE_FAILURE);
  const own = Buffer.alloc(2 * REGISTERS);
  own.writeInt32BE(Math.round(value / COUNT[unit]), 2 * COUNTS_AT);
  own.writeFloatBE(value, 2 * FLOAT_AT);
  const wanted = own.subarray(2 * address, 2 * (address + count));
  return Buffer.concat([Buffer.from([code, wanted.length]), wanted]);
}

function refusal(code: number, reason: number): Uint8Array {
  return Buffer.from([code | 0x80, reason]);
}
