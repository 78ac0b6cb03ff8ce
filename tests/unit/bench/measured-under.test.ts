import type { SetupChange } from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

const READ = ['0', '0.0010', '0.0020', '0.0030', '0.0040'] as const;
const FLAT = ['0.0001', '0', '0.0001', '0', '0.0001'] as const;

function trueAtTight(): AtTheBench {
  const at = new AtTheBench({ rises: 'toward' });
  at.must({ kind: 'set stage', stage: 'tight' });
  at.sweepKeyed(FLAT);
  expect(at.job.standing).toBe('true');
  return at;
}

const OTHERS: [what: string, change: SetupChange][] = [
  ['axis', { axis: 'y' }],
  ['target', { targetSlope: 0.01 }],
  ['limit', { limit: { kind: 'end to end', mm: 0.5, overMm: null } }],
  ['rule of decision', { decisionRule: 'plain' }],
  ['stylus', { stylus: { kind: 'nudge factor', factor: 2 } }],
  ['sense of the indicator', { rises: 'away' }],
  ['length of the bar', { sweptLengthMm: 254 }],
];

describe('what was measured stays what it was', () => {
  test.each(OTHERS)('another %s voids the sweep and changes nothing of it', (what, change) => {
    const at = trueAtTight();
    const before = at.result;
    const back = at.state.setup;
    at.must({ kind: 'change setup', change });
    expect(at.result).toEqual(before);
    expect(at.state.history.sweeps[0]!.result).toEqual(before);
    expect(at.job.standing).toBe('not measured');
    expect(at.state.sweep!.outdated).toContain(`Changed since this sweep: ${what}.`);
    expect(at.refused({ kind: 'park', xMm: 127, keyed: '0' })).toBe('sweep-void');
    // Put back, the vise may have been set meanwhile: only a sweep tells.
    at.must({ kind: 'change setup', change: back });
    expect(at.job.standing).toBe('not measured');
    at.sweepKeyed(FLAT);
    expect(at.job.standing).toBe('true');
    expect(at.state.pivot.evidence).toEqual([]);
    expect(at.recorded.some((entry) => entry.entry === 'between sweeps')).toBe(false);
  });

  test('a stop reading ends with it', () => {
    const at = new AtTheBench({ rises: 'toward' });
    at.sweepKeyed(READ);
    at.must({ kind: 'park', xMm: 127, keyed: '0.0040' });
    at.must({ kind: 'change setup', change: { axis: 'y' } });
    expect(at.state.tap).toBeNull();
  });

  test('ends marked anew on the same bar leave it', () => {
    const at = trueAtTight();
    at.must({ kind: 'change setup', change: { sweptLengthMm: 126.2 } });
    expect(at.job.standing).toBe('true');
  });
});

describe('stations follow the bar', () => {
  test('those spread over it, and the feed over the whole of it', () => {
    const at = new AtTheBench();
    at.must({ kind: 'change setup', change: { sweptLengthMm: 100 } });
    expect(at.state.setup.stationsMm).toEqual([0, 25, 50, 75, 100]);
    expect(at.state.setup.feed.distanceMm).toBe(100);
  });

  test('places chosen by hand stay, unless they would lie beyond it', () => {
    const at = new AtTheBench({ stationsMm: [10, 30, 90] });
    at.must({ kind: 'change setup', change: { sweptLengthMm: 100 } });
    expect(at.state.setup.stationsMm).toEqual([10, 30, 90]);
    at.must({ kind: 'change setup', change: { sweptLengthMm: 80 } });
    expect(at.state.setup.stationsMm).toEqual([0, 40, 80]);
  });

  test.each([-127, -30, 150])('parked at %d mm beside a bar of 127 is refused', (xMm) => {
    const at = new AtTheBench({ rises: 'toward' });
    at.sweepKeyed(READ);
    expect(at.refused({ kind: 'park', xMm, keyed: '0.004' })).toBe('beyond-the-bar');
    at.must({ kind: 'park', xMm: 127, keyed: '0.004' });
  });
});
