import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

/** `D20400`: a 24-bit count of hundredths of a millimetre, lowest byte first, the top bit its sign. */
export const countInHex: LineShape = {
  name: 'count-in-hex',
  title: 'Binary count of hundredths of a millimetre, six hexadecimal characters',
  framing: { terminator: 'any newline', longestBytes: 12 },
  fields: [
    { kind: 'count', hexDigits: 6, lowByteFirst: true, negative: 'top bit', perUnit: { mm: 100 } },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    { frame: 'D20400\r\n', value: 12.34, decimals: 2, unit: 'mm', status: 'ok', channel: null },
    { frame: '010080\r\n', value: -0.01, decimals: 2, unit: 'mm', status: 'ok', channel: null },
    { frame: 'a08601\r\n', value: 1000, decimals: 2, unit: 'mm', status: 'ok', channel: null },
  ],
};
