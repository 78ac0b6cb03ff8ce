import { expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

/** Two stations by a device, the right end 0.1 mm nearer; the stylus stays parked at the right end. */
function parked(): AtTheBench {
  const at = new AtTheBench({ rises: 'toward', entry: 'device', stationsMm: [0, 127] });
  at.connect('indicator');
  at.must({ kind: 'begin sweep' });
  at.rests('indicator', 0.1);
  at.must({ kind: 'take station' });
  at.rests('indicator', 0.2);
  at.must({ kind: 'take station' });
  at.must({ kind: 'park', xMm: 127 });
  at.rests('indicator', 0.2);
  return at;
}

test('an indicator zeroed under the mallet ends the tap: what remains could no longer be told', () => {
  const at = parked();
  expect(at.state.tap).toMatchObject({ standing: 'keep tapping' });
  at.rests('indicator', 0);
  expect(at.state.tap).toBeNull();
  expect(at.state.faults.standing.map(({ code }) => code)).toContain('zeroed-or-tapped');
});

test('a blow that comes to rest at zero is not forgotten: parked again it would stop in the wrong place', () => {
  const at = parked();
  at.rests('indicator', 0);
  expect(at.refused({ kind: 'park', xMm: 127 })).toBe('sweep-first');
  expect(at.state.sweep!.outdated).toContain('tapped');
  // The sweep that was asked for begins: the remark is dealt with, and does not stand beside a true vise.
  at.must({ kind: 'begin sweep' });
  expect(at.state.faults.standing).toEqual([]);
});

test('a preset while parked is no blow', () => {
  const at = parked();
  at.rests('indicator', 1.2);
  expect(at.state.tap).toBeNull();
  expect(at.recorded.filter(({ entry }) => entry === 'tap step')).toEqual([]);
  expect(at.state.faults.standing.map(({ code }) => code)).toContain('jumped-while-parked');
  expect(at.refused({ kind: 'park', xMm: 127 })).toBe('sweep-first');
});

test('a blow that lands on zero inside the stop band is taken for a blow', () => {
  const at = parked();
  at.must({ kind: 'leave tap' });
  // The dial now shows 0.11 less everywhere: by hand calculation the stop reading is then near -0.02.
  at.rests('indicator', 0.09);
  at.must({ kind: 'park', xMm: 127 });
  at.rests('indicator', 0.09);
  expect(at.state.tap!.stopBandMm!.lowMm).toBeLessThan(0);
  expect(at.state.tap!.stopBandMm!.highMm).toBeGreaterThan(0);
  at.rests('indicator', 0);
  expect(at.state.tap).toMatchObject({ standing: 'stop', steps: [{ effect: 'closer' }] });
});

test('a zero that is declared ends the tap as well', () => {
  const at = parked();
  at.must({ kind: 'zero moved' });
  expect(at.state.tap).toBeNull();
});

test('a limit made tighter during a sweep voids the sweep before it, once this one is abandoned', () => {
  const at = new AtTheBench({ rises: 'toward' });
  at.must({ kind: 'set stage', stage: 'tight' });
  at.sweepKeyed(['0.0000', '0.0001', '0.0002', '0.0003', '0.0004']);
  expect(at.job.standing).toBe('true');
  at.must({ kind: 'begin sweep' });
  const limit = { kind: 'end to end', mm: 0.005, overMm: null } as const;
  at.must({ kind: 'change setup', change: { limit } });
  at.must({ kind: 'abandon sweep' });
  expect(at.job.standing).toBe('not measured');
  expect(at.state.history.sweeps[0]!.result.verdict).toBe('true');
});

test('a sweep says what happened since: a tap, the clamps, the zero; the next one starts clean', () => {
  const at = parked();
  const since = () => [at.state.sweep!.outdated, at.state.sweep!.zeroMoved];
  expect(since()).toEqual(['', '']);
  at.rests('indicator', 0.15);
  expect(since()).toEqual(['The vise was tapped since this sweep.', '']);
  at.must({ kind: 'begin sweep' });
  for (const readingMm of [0.1, 0.12]) {
    at.rests('indicator', readingMm);
    at.must({ kind: 'take station' });
  }
  expect(since()).toEqual(['', '']);
  at.must({ kind: 'set stage', stage: 'snug' });
  at.must({ kind: 'zero moved' });
  expect(since()).toEqual([
    'The clamps went from nipped to snug since this sweep.',
    'the indicator was zeroed or moved',
  ]);
});
