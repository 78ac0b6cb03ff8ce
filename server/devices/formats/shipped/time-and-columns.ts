import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

const number = [
  { kind: 'spaces', atLeast: 1 },
  { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
  { kind: 'digits', atLeast: 2, atMost: 10, point: { kind: 'written', mark: '.' } },
] as const;

/** `T: 200 0.0 0.1`: a time that is passed over, then two columns of numbers, told by their place. */
export const timeAndColumns: LineShape = {
  name: 'time-and-columns',
  title: 'T: with a time, then two columns of numbers',
  framing: { terminator: 'any newline', longestBytes: 64 },
  fields: [
    { kind: 'literal', text: 'T:' },
    { kind: 'spaces', atLeast: 1 },
    { kind: 'ignore', characters: 20, upTo: ' ' },
    { kind: 'channel is', channel: '1' },
    ...number,
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
      frame: 'T: 200 0.0 0.1\r\n',
      value: 0,
      decimals: 1,
      unit: null,
      status: 'ok',
      channel: '1',
      also: [{ value: 0.1, decimals: 1, unit: null, status: 'ok', channel: '2' }],
    },
    {
      frame: 'T: 300 -0.0125 12.345\r\n',
      value: -0.0125,
      decimals: 4,
      unit: null,
      status: 'ok',
      channel: '1',
      also: [{ value: 12.345, decimals: 3, unit: null, status: 'ok', channel: '2' }],
    },
    {
      frame: 'T: 12:00:01 1.5  +2.25\n',
      value: 1.5,
      decimals: 1,
      unit: null,
      status: 'ok',
      channel: '1',
      also: [{ value: 2.25, decimals: 2, unit: null, status: 'ok', channel: '2' }],
    },
  ],
};
