import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

/** `1 MW-000.1234 mm`: channel, two letters of type, number, unit. Another type, with all nines, is no reading. */
export const channelTypeUnit: LineShape = {
  name: 'channel-type-unit',
  title: 'Channel, two-letter type, signed number, unit',
  framing: { terminator: 'any newline', longestBytes: 40 },
  fields: [
    { kind: 'channel', allowed: ['1', '2', '3', '4', '5', '6', '7', '8'] },
    { kind: 'spaces', atLeast: 1 },
    { kind: 'status', map: { MW: 'ok', ME: 'error' } },
    { kind: 'sign', map: { '+': 1, '-': -1 } },
    { kind: 'digits', atLeast: 4, atMost: 10, point: { kind: 'written', mark: '.' } },
    { kind: 'spaces', atLeast: 1 },
    { kind: 'unit', map: { mm: 'mm', in: 'in', inch: 'in' } },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: '1 MW-000.1234 mm\r\n',
      value: -0.1234,
      decimals: 4,
      unit: 'mm',
      status: 'ok',
      channel: '1',
    },
    {
      frame: '2 MW+012.3450 in\r\n',
      value: 12.345,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: '2',
    },
    {
      frame: '1 ME+999.9999 mm\r\n',
      value: null,
      unit: 'mm',
      status: 'error',
      channel: '1',
    },
  ],
};
