import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

/** `AXIS X: 12.34` and `UNIT : MM` below it: a label printer's ticket, one reading over two lines. */
export const printedAxis: LineShape = {
  name: 'printed-axis',
  title: 'Printed label over two lines: axis with value, then unit',
  framing: {
    terminator: 'any newline',
    record: { lines: 2, begins: 'AXIS ' },
    longestBytes: 48,
  },
  fields: [
    { kind: 'literal', text: 'AXIS ' },
    { kind: 'channel', allowed: ['X', 'Y', 'Z', 'W'] },
    { kind: 'literal', text: ':' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
    { kind: 'digits', atLeast: 2, atMost: 10, point: { kind: 'written', mark: '.' } },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'literal', text: '\nUNIT' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'literal', text: ':' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'unit', map: { MM: 'mm', mm: 'mm', INCH: 'in', IN: 'in', inch: 'in' } },
    { kind: 'spaces', atLeast: 0 },
  ],
  specials: [],
  trigger: 'its own key',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: 'AXIS X: 12.34\r\nUNIT : MM\r\n',
      value: 12.34,
      decimals: 2,
      unit: 'mm',
      status: 'ok',
      channel: 'X',
    },
    {
      frame: 'AXIS Y: -0.0125\r\nUNIT : INCH\r\n',
      value: -0.0125,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: 'Y',
    },
    {
      frame: 'AXIS X: 0.00\rUNIT : MM\r',
      value: 0,
      decimals: 2,
      unit: 'mm',
      status: 'ok',
      channel: 'X',
    },
  ],
};
