import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

const AXES = ['X', 'Y', 'Z', 'W'];
const NAMES = AXES.flatMap((axis) => [`${axis}act`, `${axis}pos`, axis]);

/** `2025-01-01T12:00:00Z|Xact|12.3`: time, name, value. An axis that is not available says so. */
export const pipeList: LineShape = {
  name: 'pipe-list',
  title: 'Time, name and value between upright strokes',
  framing: { terminator: 'any newline', longestBytes: 96 },
  fields: [
    { kind: 'ignore', characters: 40, upTo: '|' },
    { kind: 'literal', text: '|' },
    { kind: 'channel', allowed: NAMES },
    { kind: 'literal', text: '|' },
    { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
    {
      kind: 'digits',
      atLeast: 1,
      atMost: 12,
      point: { kind: 'written', mark: '.', wholeWithout: true },
    },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: '2025-01-01T12:00:00.000Z|Xact|12.3\n',
      value: 12.3,
      decimals: 1,
      unit: null,
      status: 'ok',
      channel: 'Xact',
    },
    {
      frame: '2025-01-01T12:00:00.100Z|Yact|-0.0125\n',
      value: -0.0125,
      decimals: 4,
      unit: null,
      status: 'ok',
      channel: 'Yact',
    },
    {
      frame: '2025-01-01T12:00:00.200Z|Xact|12\n',
      value: 12,
      decimals: 0,
      unit: null,
      status: 'ok',
      channel: 'Xact',
    },
  ],
};
