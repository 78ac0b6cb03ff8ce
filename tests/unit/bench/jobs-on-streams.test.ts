import type { ReadingStatus } from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

/** Height of the surface, positive away: the right end 0.127 mm farther over 127 mm. */
const SLOPE = 0.001;

function streaming(changes: ConstructorParameters<typeof AtTheBench>[0] = {}): AtTheBench {
  const at = new AtTheBench({
    way: 'readout',
    entry: 'device',
    rises: 'away',
    counts: 1,
    ...changes,
  });
  at.connect('indicator');
  at.connect('readout');
  return at;
}

/** The table runs from one place on the work to another at 50 mm/s; the dial rises away. */
function traverse(
  at: AtTheBench,
  fromMm: number,
  toMm: number,
  counts: 1 | -1 = 1,
  sense: 1 | -1 = 1,
) {
  const steps = Math.round(Math.abs(toMm - fromMm) / 0.5);
  for (let step = 0; step <= steps; step += 1) {
    const xMm = fromMm + ((toMm - fromMm) * step) / steps;
    at.nowMs += 10;
    at.reads('indicator', sense * SLOPE * xMm);
    if (step % 5 === 0 || step === steps) at.reads('readout', 300 + counts * xMm);
    if (step % 10 === 0) at.bench.tick(at.nowMs);
  }
}

describe('with a readout', () => {
  test.each([
    [1, 'away'],
    [-1, 'away'],
    [1, 'toward'],
    [-1, 'toward'],
  ] as const)(
    'counting %d and a dial rising %s, nudged and marked, the same bar gives the same advice',
    (counts, rises) => {
      const sense = rises === 'away' ? 1 : -1;
      const at = streaming({ rises: null, counts: null });
      expect(at.refused({ kind: 'begin sweep' })).toBe('counting-not-known');
      // Y nudge: the surface goes 0.127 mm toward the column.
      at.rests('indicator', 0.3);
      at.must({ kind: 'begin nudge', nudge: 'y' });
      at.rests('indicator', 0.3 + sense * 0.127);
      at.must({ kind: 'finish nudge', nudge: 'y', movedMm: 0.127 });
      // X nudge: the table goes right by 10 mm, so x falls by 10.
      at.rests('readout', 300 + counts * 20);
      at.must({ kind: 'begin nudge', nudge: 'x' });
      at.rests('readout', 300 + counts * 10);
      at.must({ kind: 'finish nudge', nudge: 'x' });
      expect(at.state.setup).toMatchObject({ rises, counts });
      at.rests('readout', 300);
      at.must({ kind: 'mark end', end: 'left' });
      at.rests('readout', 300 + counts * 127);
      at.must({ kind: 'mark end', end: 'right' });
      expect(at.state.setup).toMatchObject({ counts, leftEndCountMm: 300, sweptLengthMm: 127 });

      at.must({ kind: 'begin sweep' });
      traverse(at, 0, 127, counts, sense);
      traverse(at, 127, 0, counts, sense);
      at.must({ kind: 'end sweep' });
      expect(at.result.passes.map((pass) => pass.pass)).toEqual(['out', 'back']);
      expect(at.result.slope).toBeCloseTo(SLOPE, 9);
      expect(at.result.interceptMm).toBeCloseTo(0, 9);
      // d = (0 - 0.001) x (147 + 8): toward, and a clockwise turn.
      expect(at.result.tap).toMatchObject({ end: 'right', direction: 'toward', turn: 'clockwise' });
      expect(at.result.tap!.amountMm).toBeCloseTo(0.155, 7);
      expect(at.state.sweep!.nudgesSkipped).toEqual([]);
      expect(at.state.live.xMm).toBeCloseTo(0, 9);
    },
  );

  test.each(['indicator', 'readout'] as const)(
    'the %s unplugged in the middle loses nothing that was taken; put back, the sweep goes on',
    (link) => {
      const at = streaming();
      at.must({ kind: 'begin sweep' });
      traverse(at, 0, 60);
      const taken = at.state.sweep!.samples;
      expect(taken).toBeGreaterThan(90);
      at.report(link, { state: 'lost' });
      at.nowMs += 5000;
      at.bench.tick(at.nowMs);
      expect(at.state.sweep).toMatchObject({ state: 'being taken' });
      expect(at.state.sweep!.samples).toBeGreaterThanOrEqual(taken);
      at.report(link, { state: 'live' });
      traverse(at, 60, 127);
      at.must({ kind: 'end sweep' });
      expect(at.result.toMm).toBeGreaterThan(126);
      expect(at.result.slope).toBeCloseTo(SLOPE, 9);
      const readings = at.recorded.filter((entry) => entry.entry === 'reading');
      expect(readings.length).toBeGreaterThan(254 + 50);
    },
  );

  test('a readout too slow to say where the stylus was refuses readings and counts them', () => {
    const at = streaming();
    at.must({ kind: 'begin sweep' });
    at.reads('readout', 300);
    for (let ms = 0; ms < 2000; ms += 20) {
      at.nowMs += 20;
      at.reads('indicator', 0);
    }
    at.reads('readout', 320);
    at.bench.tick(at.nowMs);
    at.nowMs += 200;
    at.reads('indicator', 0);
    at.bench.tick(at.nowMs);
    expect(at.state.sweep).toMatchObject({ samples: 0, pairsRefused: 100 });
  });

  test('ends nearer than 5 mm are one place', () => {
    const at = streaming({ counts: null });
    at.rests('readout', 300);
    at.must({ kind: 'mark end', end: 'left' });
    at.rests('readout', 304);
    expect(at.refused({ kind: 'mark end', end: 'right' })).toBe('ends-too-close');
    expect(at.state.setup.counts).toBeNull();
  });

  test.each([
    ['readout', 'indicator'],
    ['indicator', 'readout'],
  ] as const)('with the %s alone it cannot begin: the %s is missing', (there, missing) => {
    const at = new AtTheBench({ way: 'readout', rises: 'away', counts: 1 });
    at.connect(there);
    const answer = at.say({ kind: 'begin sweep' });
    expect(answer).toMatchObject({ ok: false, fault: { code: 'device-missing' } });
    if (!answer.ok) expect(answer.fault.what).toContain(`the ${missing}`);
  });

  test('a nudge left out is shown on the sweep', () => {
    const at = streaming();
    at.must({ kind: 'skip nudge', nudge: 'y' });
    at.must({ kind: 'skip nudge', nudge: 'x' });
    at.must({ kind: 'begin sweep' });
    expect(at.state.sweep!.nudgesSkipped).toEqual(['y', 'x']);
  });
});

describe('stations by a device', () => {
  const byDevice = (changes = {}) => {
    const at = new AtTheBench({ entry: 'device', rises: 'away', stationsMm: [0, 63.5, 127] });
    at.connect('indicator', changes);
    at.must({ kind: 'begin sweep' });
    return at;
  };

  test.each(['hold', 'over range', 'peak mode', 'error'] as ReadingStatus[])(
    'a reading that says "%s" is shown, recorded, and never taken',
    (status) => {
      const at = byDevice();
      at.rests('indicator', 0.1);
      at.reads('indicator', 0.2, { status });
      expect(at.state.live.indicator!.status).toBe(status);
      expect(at.refused({ kind: 'take station' })).toBe('no-fresh-reading');
      const lastReading = at.recorded.findLast((entry) => entry.entry === 'reading');
      expect(lastReading).toMatchObject({ reading: { status } });
      at.rests('indicator', 0.1, 100);
      at.must({ kind: 'take station' });
      expect(at.stations()).toEqual([{ xMm: 0, readingMm: 0.1 }]);
    },
  );

  test('a reading without a number is never taken, a low battery is no reason', () => {
    const at = byDevice();
    at.reads('indicator', 0, { value: null, valueMm: null, status: 'ok' });
    expect(at.refused({ kind: 'take station' })).toBe('no-fresh-reading');
    at.reads('indicator', 0.1, { status: 'low battery' });
    at.must({ kind: 'take station' });
    expect(at.stations()).toHaveLength(1);
  });

  test.each([
    // Stale after 250 ms, or one and a half intervals of a slower device, a second at most.
    [50, 240, null],
    [50, 260, 'no-fresh-reading'],
    [3, 480, null],
    [3, 520, 'no-fresh-reading'],
    [1, 980, null],
    [1, 1020, 'no-fresh-reading'],
    [0, 260, 'no-fresh-reading'],
  ])('by a device of %d a second, a reading %d ms old: %j', (readingsPerSecond, ageMs, refusal) => {
    const at = byDevice({ readingsPerSecond });
    at.reads('indicator', 0.1);
    at.nowMs += ageMs - 10;
    expect(at.refused({ kind: 'take station' })).toBe(refusal);
  });

  test('its own send key takes the station, one a press', () => {
    const at = byDevice({ trigger: 'its own key', state: 'waiting for its key' });
    for (const mm of [0, 0.0635, 0.127]) {
      at.nowMs += 30_000;
      at.reads('indicator', mm);
    }
    expect(at.stations().map((station) => station.xMm)).toEqual([0, 63.5, 127]);
    expect(at.result.slope).toBeCloseTo(SLOPE, 12);
  });

  test('a stream takes no station by itself', () => {
    const at = byDevice();
    at.rests('indicator', 0.1, 2000);
    expect(at.stations()).toEqual([]);
  });

  test('what was taken is kept when the device is lost, and nothing more is taken from its last reading', () => {
    const at = byDevice();
    at.rests('indicator', 0.1);
    at.must({ kind: 'take station' });
    at.report('indicator', { state: 'lost' });
    expect(at.refused({ kind: 'take station' })).toBe('no-fresh-reading');
    expect(at.state.live.indicator).toBeNull();
    expect(at.state.sweep!.points).toHaveLength(1);
    at.must({ kind: 'take station', keyed: '0.0025in' });
    expect(at.stations()[1]!.readingMm).toBeCloseTo(0.0635, 12);
  });
});

describe('at constant feed', () => {
  test('between two marks, out and back, from the right end', () => {
    const at = new AtTheBench({
      way: 'feed',
      rises: 'away',
      backPass: true,
      feed: { startsAt: 'right', distanceMm: 127, mmPerMin: null },
    });
    at.connect('indicator');
    expect(at.refused({ kind: 'start feed' })).toBe('no-sweep');
    at.must({ kind: 'begin sweep' });
    expect(at.refused({ kind: 'stop feed' })).toBe('feed-mark-refused');
    for (const [fromMm, toMm] of [
      [127, 0],
      [0, 127],
    ] as const) {
      at.must({ kind: 'start feed' });
      const startMs = at.nowMs;
      expect(at.state.sweep!.feedRunning).toBe(true);
      for (let ms = 50; ms <= 10_000; ms += 50) {
        at.nowMs = startMs + ms;
        at.reads('indicator', SLOPE * (fromMm + ((toMm - fromMm) * ms) / 10_010));
      }
      at.must({ kind: 'stop feed' });
    }
    expect(at.state.sweep).toMatchObject({ state: 'ended', feedRunning: false });
    expect(at.result.slope).toBeCloseTo(SLOPE, 9);
    expect(at.result.interceptMm).toBeCloseTo(0, 9);
    expect(at.result.passes).toHaveLength(2);
  });
});

describe('tapping by a stream', () => {
  test('each blow is one step, past an indicator that says nothing for a moment', () => {
    const at = new AtTheBench({ entry: 'device', rises: 'away', stationsMm: [0, 127] });
    at.connect('indicator');
    at.must({ kind: 'begin sweep' });
    for (const mm of [0.2, 0.327]) {
      at.rests('indicator', mm);
      at.must({ kind: 'take station' });
    }
    at.must({ kind: 'park', xMm: 127 });
    at.rests('indicator', 0.327);
    at.rests('indicator', 0.28);
    at.reads('indicator', 0, { status: 'over range', value: null, valueMm: null });
    expect(at.state.tap).toMatchObject({ standing: 'no reading', readingMm: null });
    at.rests('indicator', 0.28);
    at.rests('indicator', 0.2);
    // Stop: 0.327 - 0.001 x 135 = 0.192, and 0.0002 x 135 = 0.027 either way.
    expect(at.state.tap!.tapToReadingMm).toBeCloseTo(0.192, 9);
    expect(at.state.tap).toMatchObject({
      standing: 'stop',
      steps: [{ effect: 'closer' }, { effect: 'closer' }],
    });
    expect(at.recorded.filter((entry) => entry.entry === 'tap step')).toHaveLength(2);
  });
});
