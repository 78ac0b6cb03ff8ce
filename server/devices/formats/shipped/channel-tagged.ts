import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

/** 01A to 16D: two digits and a letter, as many as one shape may hold. */
const TAGS = Array.from({ length: 16 }, (_, index) => String(index + 1).padStart(2, '0')).flatMap(
  (number) => ['A', 'B', 'C', 'D'].map((letter) => `${number}${letter}`),
);

/** `02A+000.5678`: a channel tag of two digits and a letter, then the signed number, ended by CR. */
export const channelTagged: LineShape = {
  name: 'channel-tagged',
  title: 'Channel tag, then number with sign and point, streamed',
  framing: { terminator: 'any newline', longestBytes: 40 },
  fields: [
    { kind: 'channel', allowed: TAGS },
    { kind: 'sign', map: { '+': 1, '-': -1 } },
    { kind: 'digits', atLeast: 4, atMost: 10, point: { kind: 'written', mark: '.' } },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: '02A+000.5678\r',
      value: 0.5678,
      decimals: 4,
      unit: null,
      status: 'ok',
      channel: '02A',
    },
    {
      frame: '01A-000.0013\r',
      value: -0.0013,
      decimals: 4,
      unit: null,
      status: 'ok',
      channel: '01A',
    },
    {
      frame: '16D+0012.305\r',
      value: 12.305,
      decimals: 3,
      unit: null,
      status: 'ok',
      channel: '16D',
    },
  ],
};
