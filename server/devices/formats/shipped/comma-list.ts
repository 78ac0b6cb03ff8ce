import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

const CHANNELS = Array.from({ length: 16 }, (_, index) => String(index + 1).padStart(2, '0'));

/** `017, 0.0021, NRM, 02`: counter, value, mode, channel. Minimum, maximum and range are not the dial. */
export const commaList: LineShape = {
  name: 'comma-list',
  title: 'Comma list: counter, value, mode, channel',
  framing: { terminator: 'any newline', longestBytes: 48 },
  fields: [
    { kind: 'spaces', atLeast: 0 },
    { kind: 'counter', atLeast: 1, atMost: 6 },
    { kind: 'literal', text: ',' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
    { kind: 'digits', atLeast: 1, atMost: 10, point: { kind: 'written', mark: '.' } },
    { kind: 'literal', text: ',' },
    { kind: 'spaces', atLeast: 0 },
    {
      kind: 'status',
      map: {
        NRM: 'ok',
        MIN: 'peak mode',
        MAX: 'peak mode',
        RNG: 'peak mode',
        HLD: 'hold',
        BAT: 'low battery',
        OVR: 'over range',
        ERR: 'error',
      },
    },
    { kind: 'literal', text: ',' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'channel', allowed: CHANNELS },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: '017, 0.0021, NRM, 02\r\n',
      value: 0.0021,
      decimals: 4,
      unit: null,
      status: 'ok',
      channel: '02',
    },
    {
      frame: '018, -0.0009, NRM, 02\r\n',
      value: -0.0009,
      decimals: 4,
      unit: null,
      status: 'ok',
      channel: '02',
    },
    {
      frame: '019, 1.204, MAX, 01\r\n',
      value: 1.204,
      decimals: 3,
      unit: null,
      status: 'peak mode',
      channel: '01',
    },
    {
      frame: '020, 9.9999, OVR, 01\r\n',
      value: null,
      unit: null,
      status: 'over range',
      channel: '01',
    },
  ],
};
