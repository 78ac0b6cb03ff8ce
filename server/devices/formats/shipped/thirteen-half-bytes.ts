import type { LineShape, ShapeField } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

/** Codes of sign (0, 8) and unit (0, 1) from memory; they are not in the source of the form. */
const FIELDS: ShapeField[] = [
  { kind: 'sign', map: { '0': 1, '8': -1 } },
  { kind: 'digits', atLeast: 6, atMost: 6, point: { kind: 'given by point field' } },
  { kind: 'point', map: { '0': 0, '1': 1, '2': 2, '3': 3, '4': 4, '5': 5 } },
  { kind: 'unit', map: { '0': 'mm', '1': 'in' } },
];

const REST = {
  specials: [],
  trigger: 'asked',
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
} as const;

/** Four F, sign, six digits, point, unit: a clocked signal as its bridge sends it on, two half bytes in a byte. */
export const thirteenHalfBytes: LineShape = {
  ...REST,
  name: 'thirteen-half-bytes',
  title: 'Packed: four F, sign, six digits, point, unit, seven bytes',
  framing: { terminator: 'no line end', fixedBytes: 7, longestBytes: 7 },
  packed: 'high nibble first',
  fields: [{ kind: 'literal', text: 'ffff' }, ...FIELDS, { kind: 'literal', text: '0' }],
  specials: [],
  request: { text: 'R', everyMs: 200 },
  samples: [
    {
      frame: '\xff\xff\x80\x00\x12\x54\x00',
      value: -0.0125,
      decimals: 4,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
    {
      frame: '\xff\xff\x00\x12\x34\x53\x00',
      value: 12.345,
      decimals: 3,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
    {
      frame: '\xff\xff\x00\x00\x02\x14\x10',
      value: 0.0021,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: null,
    },
    {
      frame: '\xff\xff\x81\x00\x00\x02\x00',
      value: -1000,
      decimals: 2,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
  ],
};

/** The same written out as characters, with a line end. */
export const thirteenHexCharacters: LineShape = {
  ...REST,
  name: 'thirteen-hex-characters',
  title: 'FFFF, sign, six digits, point, unit, as characters',
  framing: { terminator: 'any newline', longestBytes: 16 },
  fields: [{ kind: 'literal', text: 'FFFF' }, ...FIELDS],
  specials: [],
  request: { text: 'R', everyMs: 200 },
  samples: [
    {
      frame: 'FFFF800012540\r\n',
      value: -0.0125,
      decimals: 4,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
    {
      frame: 'FFFF001234530\r\n',
      value: 12.345,
      decimals: 3,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
    {
      frame: 'FFFF000002141\r\n',
      value: 0.0021,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: null,
    },
    {
      frame: 'FFFF810000020\r\n',
      value: -1000,
      decimals: 2,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
  ],
};
