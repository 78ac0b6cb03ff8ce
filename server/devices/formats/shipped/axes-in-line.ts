import type { LineShape, ShapeField } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

function axis(name: string): ShapeField[] {
  return [
    { kind: 'literal', text: `${name}=` },
    { kind: 'channel is', channel: name },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
    { kind: 'digits', atLeast: 2, atMost: 10, point: { kind: 'written', mark: '.' }, absent: '*' },
    { kind: 'spaces', atLeast: 1 },
  ];
}

/** `X= +1.2340 Y= -0.5000 INCH`: both axes in one line, the unit once for both, stars for an absent one. */
export const twoAxesInLine: LineShape = {
  name: 'two-axes-in-line',
  title: 'Two axes in one line, each with its label, unit at the end',
  framing: { terminator: 'any newline', longestBytes: 64 },
  fields: [
    ...axis('X'),
    { kind: 'next axis' },
    ...axis('Y'),
    { kind: 'unit', map: { INCH: 'in', IN: 'in', MM: 'mm', mm: 'mm', inch: 'in', in: 'in' } },
  ],
  specials: [{ text: 'ERROR', status: 'error' }],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: 'X= +1.2340 Y= -0.5000 INCH\r\n',
      value: 1.234,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: 'X',
      also: [{ value: -0.5, decimals: 4, unit: 'in', status: 'ok', channel: 'Y' }],
    },
    {
      frame: 'X=-31.350 Y=4.005 MM\r\n',
      value: -31.35,
      decimals: 3,
      unit: 'mm',
      status: 'ok',
      channel: 'X',
      also: [{ value: 4.005, decimals: 3, unit: 'mm', status: 'ok', channel: 'Y' }],
    },
    {
      frame: 'X= +0.0000 Y= ****** INCH\r\n',
      value: 0,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: 'X',
      also: [{ value: null, unit: 'in', status: 'error', channel: 'Y' }],
    },
  ],
};
