import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

const AXES = ['X', 'Y', 'Z', 'W'];

/** `X= +1.2340 INCH`: axis, number, unit. Stars stand for an axis without a scale: absent, not nought. */
export const axisReadout: LineShape = {
  name: 'axis-readout',
  title: 'Axis label, equals, number, unit',
  framing: { terminator: 'any newline', longestBytes: 48 },
  fields: [
    { kind: 'channel', allowed: AXES },
    { kind: 'literal', text: '=' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'digits', atLeast: 2, atMost: 10, point: { kind: 'written', mark: '.' } },
    { kind: 'spaces', atLeast: 1 },
    { kind: 'unit', map: { INCH: 'in', IN: 'in', MM: 'mm', mm: 'mm', inch: 'in', in: 'in' } },
  ],
  specials: [
    ...AXES.map((channel) => ({ text: `${channel}= ******`, status: 'error' as const, channel })),
    { text: 'ERROR', status: 'error' },
  ],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: 'X= +1.2340 INCH\r\n',
      value: 1.234,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: 'X',
    },
    {
      frame: 'Y= -31.350 MM\r\n',
      value: -31.35,
      decimals: 3,
      unit: 'mm',
      status: 'ok',
      channel: 'Y',
    },
    { frame: 'Z= ******\r\n', value: null, unit: null, status: 'error', channel: 'Z' },
    { frame: 'ERROR\r\n', value: null, unit: null, status: 'error', channel: null },
  ],
};
