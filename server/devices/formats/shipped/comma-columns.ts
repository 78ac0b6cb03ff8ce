import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

const number = [
  { kind: 'spaces', atLeast: 0 },
  { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
  { kind: 'digits', atLeast: 2, atMost: 10, point: { kind: 'written', mark: '.' } },
] as const;

/** `12.345,-0.0125`: two columns, told by their place. */
export const commaColumns: LineShape = {
  name: 'comma-columns',
  title: 'Two numbers with a comma between',
  framing: { terminator: 'any newline', longestBytes: 48 },
  fields: [
    { kind: 'channel is', channel: '1' },
    ...number,
    { kind: 'literal', text: ',' },
    { kind: 'next axis' },
    { kind: 'channel is', channel: '2' },
    ...number,
    { kind: 'spaces', atLeast: 0 },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: '12.345,-0.0125\r\n',
      value: 12.345,
      decimals: 3,
      unit: null,
      status: 'ok',
      channel: '1',
      also: [{ value: -0.0125, decimals: 4, unit: null, status: 'ok', channel: '2' }],
    },
    {
      frame: '-0.5, 3.0\n',
      value: -0.5,
      decimals: 1,
      unit: null,
      status: 'ok',
      channel: '1',
      also: [{ value: 3, decimals: 1, unit: null, status: 'ok', channel: '2' }],
    },
    {
      frame: '0.000,0.000\r\n',
      value: 0,
      decimals: 3,
      unit: null,
      status: 'ok',
      channel: '1',
      also: [{ value: 0, decimals: 3, unit: null, status: 'ok', channel: '2' }],
    },
  ],
};
