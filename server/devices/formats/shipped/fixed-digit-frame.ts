import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

const STX = '\x02';

/** STX, unit code, polarity, point position, eight digits, CR: no character but digits, told by place. */
export const fixedDigitFrame: LineShape = {
  name: 'fixed-digit-frame',
  title: 'STX, then digits by place: unit, polarity, point, eight digits',
  framing: { start: STX, terminator: '\r', fixedBytes: 11, longestBytes: 13 },
  fields: [
    { kind: 'unit', map: { '0': 'mm', '1': 'in' } },
    { kind: 'sign', map: { '0': 1, '1': -1 } },
    { kind: 'point', map: { '0': 0, '1': 1, '2': 2, '3': 3, '4': 4, '5': 5, '6': 6 } },
    { kind: 'digits', atLeast: 8, atMost: 8, point: { kind: 'given by point field' } },
  ],
  specials: [{ text: '99999999999', status: 'over range' }],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    {
      frame: `${STX}01300001234\r`,
      value: -1.234,
      decimals: 3,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
    {
      frame: `${STX}10400000021\r`,
      value: 0.0021,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: null,
    },
    {
      frame: `${STX}00000000007\r`,
      value: 7,
      decimals: 0,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
    { frame: `${STX}99999999999\r`, value: null, unit: null, status: 'over range', channel: null },
  ],
};
