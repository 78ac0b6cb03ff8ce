import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

/**
 * Six digits, the last place first, then a flag: negative, half digit, metric. A clocked signal, about one
 * every 0.32 s, as its bridge writes it out. Which bit is which is in the order of the source's list.
 */
export const sevenHexCharacters: LineShape = {
  name: 'seven-hex-characters',
  title: 'Six digits, last place first, then a flag of sign, half digit and unit',
  framing: { terminator: 'any newline', longestBytes: 12 },
  fields: [
    {
      kind: 'digits',
      atLeast: 6,
      atMost: 6,
      point: { kind: 'given by unit', mm: 2, in: 3 },
      lowestFirst: true,
    },
    {
      kind: 'flags',
      hexDigits: 1,
      bits: [
        { bit: 0, set: 'minus' },
        { bit: 1, set: 'half digit' },
        { bit: 2, set: 'mm', clear: 'in' },
      ],
      others: 'nought',
    },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: BOTH_SIGNALS_UP,
  port: USUAL_PORT,
  samples: [
    { frame: '4321005\r\n', value: -12.34, decimals: 2, unit: 'mm', status: 'ok', channel: null },
    { frame: '4321004\r\n', value: 12.34, decimals: 2, unit: 'mm', status: 'ok', channel: null },
    { frame: '1000002\r\n', value: 0.0015, decimals: 4, unit: 'in', status: 'ok', channel: null },
    { frame: '5210001\r\n', value: -0.125, decimals: 4, unit: 'in', status: 'ok', channel: null },
  ],
};
