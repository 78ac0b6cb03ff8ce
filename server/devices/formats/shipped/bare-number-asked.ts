import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

/** ` 12.345` in reply to the letter R: a padded number and nothing else. */
export const bareNumberAsked: LineShape = {
  name: 'bare-number-asked',
  title: 'Bare padded number, asked for by one letter',
  framing: { terminator: 'any newline', longestBytes: 24 },
  fields: [
    { kind: 'spaces', atLeast: 0 },
    { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
    { kind: 'digits', atLeast: 1, atMost: 10, point: { kind: 'written', mark: '.' } },
  ],
  specials: [{ text: 'E', status: 'error' }],
  trigger: 'asked',
  // Ten a second: three to ten is what such devices manage.
  request: { text: 'R\r\n', everyMs: 100 },
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    { frame: ' 12.345\r\n', value: 12.345, decimals: 3, unit: null, status: 'ok', channel: null },
    {
      frame: '  -0.0014\r\n',
      value: -0.0014,
      decimals: 4,
      unit: null,
      status: 'ok',
      channel: null,
    },
    { frame: '  0.000\r\n', value: 0, decimals: 3, unit: null, status: 'ok', channel: null },
    { frame: 'E\r\n', value: null, unit: null, status: 'error', channel: null },
  ],
};
