import type { LineShape } from '@taptrue/protocol';
import { axisReadout } from './axis-readout.ts';

const AXES = ['X', 'Y', 'Z', 'W'];

/** `X: +1.2340 INCH`: as with the equals sign, one axis a line, stars where a scale is missing. */
export const axisColon: LineShape = {
  ...axisReadout,
  name: 'axis-colon',
  title: 'Axis label, colon, number, unit',
  fields: [
    { kind: 'channel', allowed: AXES },
    { kind: 'literal', text: ':' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
    { kind: 'spaces', atLeast: 0 },
    {
      kind: 'digits',
      atLeast: 2,
      atMost: 10,
      point: { kind: 'written', mark: '.' },
      absent: '*',
    },
    { kind: 'spaces', atLeast: 0 },
    {
      kind: 'unit',
      map: { INCH: 'in', IN: 'in', MM: 'mm', mm: 'mm', inch: 'in', in: 'in' },
      optional: true,
    },
  ],
  specials: [{ text: 'ERROR', status: 'error' }],
  samples: [
    {
      frame: 'X: +1.2340 INCH\r\n',
      value: 1.234,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: 'X',
    },
    {
      frame: 'Y:-31.350 MM\r\n',
      value: -31.35,
      decimals: 3,
      unit: 'mm',
      status: 'ok',
      channel: 'Y',
    },
    { frame: 'Z: ******\r\n', value: null, unit: null, status: 'error', channel: 'Z' },
    { frame: 'ERROR\r\n', value: null, unit: null, status: 'error', channel: null },
  ],
};
