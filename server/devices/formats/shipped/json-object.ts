import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

/** `{"x":12.3}`: one name and one number, as home-made senders have it. */
export const jsonObject: LineShape = {
  name: 'json-object',
  title: 'JSON with one name and one number',
  framing: { terminator: 'any newline', longestBytes: 64 },
  fields: [
    { kind: 'spaces', atLeast: 0 },
    { kind: 'literal', text: '{' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'literal', text: '"' },
    {
      kind: 'channel',
      allowed: ['x', 'y', 'z', 'w', 'X', 'Y', 'Z', 'W', 'value', 'reading', 'position'],
    },
    { kind: 'literal', text: '"' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'literal', text: ':' },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'sign', map: { '-': -1 }, optional: true },
    {
      kind: 'digits',
      atLeast: 1,
      atMost: 12,
      point: { kind: 'written', mark: '.', wholeWithout: true },
    },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'literal', text: '}' },
    { kind: 'spaces', atLeast: 0 },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    { frame: '{"x":12.3}\n', value: 12.3, decimals: 1, unit: null, status: 'ok', channel: 'x' },
    {
      frame: '{ "y": -0.0125 }\r\n',
      value: -0.0125,
      decimals: 4,
      unit: null,
      status: 'ok',
      channel: 'y',
    },
    { frame: '{"value":7}\n', value: 7, decimals: 0, unit: null, status: 'ok', channel: 'value' },
  ],
};
