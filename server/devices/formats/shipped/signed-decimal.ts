import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

/** `+000.1234 , IN`, `-0.0021 in`, ` 12.345`: a number with its point, a unit if the device sends one. */
export const signedDecimal: LineShape = {
  name: 'signed-decimal',
  title: 'Number with sign and point, unit if sent, streamed',
  framing: { terminator: 'any newline', longestBytes: 40 },
  fields: [
    { kind: 'spaces', atLeast: 0 },
    { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'digits', atLeast: 1, atMost: 10, point: { kind: 'written', mark: '.' } },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'literal', text: ',', optional: true },
    { kind: 'spaces', atLeast: 0 },
    {
      kind: 'unit',
      map: { mm: 'mm', MM: 'mm', in: 'in', IN: 'in', inch: 'in', INCH: 'in', '"': 'in' },
      optional: true,
    },
    { kind: 'spaces', atLeast: 0 },
  ],
  specials: [
    { text: 'ERR', status: 'error' },
    { text: 'OVER', status: 'over range' },
  ],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: '+000.1234 , IN\r\n',
      value: 0.1234,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: null,
    },
    {
      frame: '-0.0021 in\r\n',
      value: -0.0021,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: null,
    },
    {
      frame: ' - 12.345 mm\r',
      value: -12.345,
      decimals: 3,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
    { frame: '+.0007\n', value: 0.0007, decimals: 4, unit: null, status: 'ok', channel: null },
    { frame: '-00.000\r\n', value: 0, decimals: 3, unit: null, status: 'ok', channel: null },
    { frame: 'OVER\r\n', value: null, unit: null, status: 'over range', channel: null },
  ],
};

/** The same text from a device that sends when its key or foot switch is pressed. */
export const signedDecimalByKey: LineShape = {
  ...signedDecimal,
  name: 'signed-decimal-by-key',
  title: 'Number with sign and point, unit if sent, at the press of its key',
  trigger: 'its own key',
};
