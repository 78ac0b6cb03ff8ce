import type { LineShape } from '@taptrue/protocol';
import { signedDecimal } from './signed-decimal.ts';

/** `-0,0125 mm`: the same with a decimal comma. Fixed here, for 1,30 read as 130 is a wrong part. */
export const signedDecimalComma: LineShape = {
  ...signedDecimal,
  name: 'signed-decimal-comma',
  title: 'Number with sign and decimal comma, unit if sent, streamed',
  fields: [
    { kind: 'spaces', atLeast: 0 },
    { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
    { kind: 'spaces', atLeast: 0 },
    { kind: 'digits', atLeast: 1, atMost: 10, point: { kind: 'written', mark: ',' } },
    { kind: 'spaces', atLeast: 0 },
    {
      kind: 'unit',
      map: { mm: 'mm', MM: 'mm', in: 'in', IN: 'in', inch: 'in', INCH: 'in' },
      optional: true,
    },
    { kind: 'spaces', atLeast: 0 },
  ],
  samples: [
    {
      frame: '-0,0125 mm\r\n',
      value: -0.0125,
      decimals: 4,
      unit: 'mm',
      status: 'ok',
      channel: null,
    },
    {
      frame: '+000,1234 IN\r',
      value: 0.1234,
      decimals: 4,
      unit: 'in',
      status: 'ok',
      channel: null,
    },
    { frame: ' 1,30\r\n', value: 1.3, decimals: 2, unit: null, status: 'ok', channel: null },
    { frame: '4,0\r\n', value: 4, decimals: 1, unit: null, status: 'ok', channel: null },
  ],
};
