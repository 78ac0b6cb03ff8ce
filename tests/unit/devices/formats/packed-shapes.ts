import type { LineShape } from '@taptrue/protocol';

const REST: Pick<LineShape, 'specials' | 'trigger' | 'request' | 'signals' | 'port'> = {
  specials: [],
  trigger: 'streams',
  request: null,
  signals: { dtr: true, rts: true },
  port: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
};

const ok = { unit: 'mm', status: 'ok', channel: null } as const;

/** Start A5, six digits lowest first by half bytes, flags, xor: bytes 12 34 00 04 as the half bytes run. */
export const digitsUnderXor: LineShape = {
  ...REST,
  name: 'digits-under-xor',
  title: 'Start byte, six digits the last place first, flags, xor',
  framing: { start: '\xa5', terminator: 'no line end', fixedBytes: 5, longestBytes: 8 },
  packed: 'low nibble first',
  fields: [
    {
      kind: 'digits',
      atLeast: 6,
      atMost: 6,
      lowestFirst: true,
      point: { kind: 'given by unit', mm: 2, in: 3 },
    },
    {
      kind: 'flags',
      hexDigits: 2,
      bits: [
        { bit: 0, set: 'minus' },
        { bit: 2, set: 'mm', clear: 'in' },
        { bit: 3, set: 'low battery' },
      ],
      others: 'nought',
    },
    { kind: 'checksum', rule: 'xor', of: 'after the start' },
  ],
  // Half bytes 4 3 2 1 0 0 are 12.34; packed low half first they are 34 12 00. The xor is worked out by hand.
  samples: [
    { frame: '\xa5\x34\x12\x00\x04\x22', value: 12.34, decimals: 2, ...ok },
    { frame: '\xa5\x34\x12\x00\x05\x23', value: -12.34, decimals: 2, ...ok },
    { frame: '\xa5\x00\x00\x00\x04\x04', value: 0, decimals: 2, ...ok },
    {
      frame: '\xa5\x34\x12\x00\x0c\x2a',
      value: 12.34,
      decimals: 2,
      ...ok,
      status: 'low battery',
    },
  ],
};

/** Frames of the second worked out with a table-less CRC; its rule is checked by published vectors beside.
 * Start AA, a 24-bit two's complement count of microns, low byte first, CRC-16 as Modbus has it, low byte first. */
export const countUnderCrc: LineShape = {
  ...REST,
  name: 'count-under-crc',
  title: 'Start byte, 24-bit count of thousandths, CRC-16',
  framing: { start: '\xaa', terminator: 'no line end', fixedBytes: 5, longestBytes: 8 },
  packed: 'high nibble first',
  fields: [
    {
      kind: 'count',
      hexDigits: 6,
      lowByteFirst: true,
      negative: 'twos complement',
      perUnit: { mm: 1000 },
    },
    { kind: 'checksum', rule: 'crc-16/modbus', of: 'from the start', lowByteFirst: true },
  ],
  samples: [
    { frame: '\xaa\x39\x30\x00\xe5\xf1', value: 12.345, decimals: 3, ...ok },
    { frame: '\xaa\xeb\xff\xff\x50\x78', value: -0.021, decimals: 3, ...ok },
    { frame: '\xaa\x00\x00\x00\x21\xfc', value: 0, decimals: 3, ...ok },
  ],
};
