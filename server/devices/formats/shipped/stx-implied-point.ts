import type { LineShape } from '@taptrue/protocol';
import { BOTH_SIGNALS_UP, USUAL_PORT } from './usual-port.ts';

const STX = '\x02';

/** `+000012345` after STX: nine digits and no point. Where the point stands is known only from settings. */
function stxImpliedPoint(
  row: Pick<LineShape, 'name' | 'title' | 'samples'>,
  decimals: number,
): LineShape {
  return {
    ...row,
    framing: { start: STX, terminator: 'any newline', longestBytes: 24 },
    fields: [
      { kind: 'sign', map: { '+': 1, '-': -1 } },
      { kind: 'digits', atLeast: 9, atMost: 9, point: { kind: 'implied', decimals } },
    ],
    specials: [],
    trigger: 'streams',
    request: null,
    signals: BOTH_SIGNALS_UP,
    port: USUAL_PORT,
  };
}

const sample = (digits: string, value: number, decimals: number): LineShape['samples'][number] => ({
  frame: `${STX}${digits}\r\n`,
  value,
  decimals,
  unit: null,
  status: 'ok',
  channel: null,
});

export const stxImpliedPoint3: LineShape = stxImpliedPoint(
  {
    name: 'stx-implied-point',
    title: 'STX, sign, nine digits; the last three are decimals',
    samples: [
      sample('+000012345', 12.345, 3),
      sample('-000000021', -0.021, 3),
      sample('+000000000', 0, 3),
    ],
  },
  3,
);

export const stxImpliedPoint4: LineShape = stxImpliedPoint(
  {
    name: 'stx-implied-point-4',
    title: 'STX, sign, nine digits; the last four are decimals',
    samples: [
      sample('+000012345', 1.2345, 4),
      sample('-000000021', -0.0021, 4),
      sample('+000050000', 5, 4),
    ],
  },
  4,
);
