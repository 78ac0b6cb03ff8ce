import { PowerEvidence, type PowerSeen } from '@taptrue/server/devices/finding/power-evidence.ts';
import { LINES_TRIED } from '@taptrue/server/devices/finding/settings-tried.ts';
import { describe, expect, it } from 'vitest';

/** CTS at each look, a row for each of: both lines up, DTR up alone, RTS up alone. `?`: could not be read. */
function seenOf(looks: readonly string[]): PowerSeen {
  const evidence = new PowerEvidence();
  for (const [index, row] of looks.entries()) {
    for (const look of row) {
      const status = look === '?' ? null : { cts: look === '1', dsr: false, dcd: false };
      evidence.saw(LINES_TRIED[index]!, { setsLines: true, status });
    }
  }
  return evidence.seen;
}

describe('what the status lines tell, from how they stood at each level of DTR and RTS', () => {
  it.each([
    ['off throughout', ['000', '000', '000'], { kind: 'never on' }],
    ['on throughout', ['111', '111', '111'], { kind: 'on by itself', on: ['cts'] }],
    ['as DTR', ['111', '111', '000'], { kind: 'ours sent back', asDtr: ['cts'], asRts: [] }],
    ['as RTS', ['111', '000', '111'], { kind: 'ours sent back', asDtr: [], asRts: ['cts'] }],
    ['across DTR', ['000', '111', '000'], { kind: 'across', on: ['cts'], lines: LINES_TRIED[1] }],
    ['across RTS', ['000', '000', '111'], { kind: 'across', on: ['cts'], lines: LINES_TRIED[2] }],
    ['charging up first', ['000', '011', '000'], { kind: 'across', on: ['cts'] }],
    ['a plug that comes and goes', ['010', '000', '100'], { kind: 'comes and goes', on: ['cts'] }],
    ['unread at one level', ['000', '???', '000'], { kind: 'not seen' }],
    ['never read', ['', '', ''], { kind: 'not seen' }],
    ['unread now and then', ['0?0', '00?', '?00'], { kind: 'never on' }],
  ])('%s', (_what, looks, seen) => {
    expect(seenOf(looks)).toMatchObject(seen);
  });

  it('a port that refused to set its lines once has nothing else to tell', () => {
    const evidence = new PowerEvidence();
    for (const lines of LINES_TRIED) {
      evidence.saw(lines, { setsLines: true, status: { cts: true, dsr: true, dcd: true } });
    }
    evidence.saw(LINES_TRIED[1]!, { setsLines: false, status: null });
    expect(evidence.seen).toEqual({ kind: 'refused' });
  });
});
