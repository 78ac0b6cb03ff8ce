import { describe, expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

/** Two stations by a device, the right end 0.1 mm nearer; the stylus stays parked at the right end. */
function parked(): AtTheBench {
  const at = new AtTheBench({ rises: 'toward', entry: 'device', stationsMm: [0, 127] });
  at.connect('indicator');
  at.must({ kind: 'begin sweep' });
  for (const readingMm of [0.1, 0.2]) {
    at.rests('indicator', readingMm);
    at.must({ kind: 'take station' });
  }
  at.must({ kind: 'park', xMm: 127 });
  at.rests('indicator', 0.2);
  return at;
}

function backAt(at: AtTheBench, readingMm: number): void {
  at.report('indicator', { state: 'lost' });
  expect(at.state.tap).toMatchObject({ standing: 'no reading', readingMm: null });
  at.nowMs += 5000;
  at.report('indicator', { state: 'live' });
  at.rests('indicator', readingMm);
}

describe('an indicator unplugged and put back under the parked stylus', () => {
  test.each([0.2, 0.202, 0.198])('at 0.2, back at %d: it goes on without a word', (readingMm) => {
    const at = parked();
    backAt(at, readingMm);
    expect(at.state.tap).toMatchObject({ standing: 'keep tapping', sweepAgain: '', steps: [] });
    at.rests('indicator', 0.17);
    expect(at.state.tap!.steps).toMatchObject([{ effect: 'closer' }]);
    at.must({ kind: 'park', xMm: 127 });
    expect(at.state.tap!.sweepAgain).toContain('Reckoned on from the taps');
  });

  test('elsewhere it says that the zero may have moved, and counts no tap', () => {
    const at = parked();
    backAt(at, 0.15);
    expect(at.state.tap).toMatchObject({ readingMm: 0.15, steps: [] });
    expect(at.state.tap!.sweepAgain).toContain('its zero may have moved');
    at.must({ kind: 'change setup', change: { displayUnit: 'mm' } });
    expect(at.state.tap!.sweepAgain).toContain('at +0.200 mm and came back at +0.150 mm');
  });

  test('elsewhere after a tap, or not back at all, it wants a sweep before it is parked again', () => {
    for (const isBack of [true, false]) {
      const at = parked();
      at.rests('indicator', 0.19);
      if (isBack) backAt(at, 0.15);
      else at.report('indicator', { state: 'lost' });
      at.must({ kind: 'leave tap' });
      const keyed = isBack ? '0.15mm' : '0.19mm';
      expect(at.refused({ kind: 'park', xMm: 127, keyed })).toBe('sweep-first');
    }
  });

  test('elsewhere with nothing tapped it may be parked anew, from what the dial shows now', () => {
    const at = parked();
    backAt(at, 0.15);
    at.must({ kind: 'park', xMm: 127 });
    // The reading rises toward: the whole slope, 0.1 / 127, over the lever of 135 comes off it.
    expect(at.state.tap!.tapToReadingMm).toBeCloseTo(0.15 - (0.1 / 127) * 135, 9);
  });
});

describe('an indicator with a key of its own', () => {
  const byKey = () => {
    const at = new AtTheBench({ rises: 'toward', entry: 'device' });
    at.connect('indicator', {
      trigger: 'its own key',
      state: 'waiting for its key',
      readingsPerSecond: 0,
    });
    return at;
  };

  test('gives one station a press: "Take" on the screen takes none a second time', () => {
    const at = byKey();
    at.must({ kind: 'begin sweep' });
    at.reads('indicator', 0.1);
    at.nowMs += 60_000;
    const answer = at.say({ kind: 'take station' });
    expect(answer).toMatchObject({ ok: false, fault: { code: 'no-fresh-reading' } });
    if (!answer.ok) expect(answer.fault.got).toContain('key was not pressed');
    expect(at.stations()).toHaveLength(1);
    at.reads('indicator', 0.12);
    at.must({ kind: 'take station', keyed: '0.005' });
    expect(at.stations()).toHaveLength(3);
  });

  test('nor is a press from before the sweep taken, nor the one that was struck out', () => {
    const at = byKey();
    at.reads('indicator', 0.1);
    at.must({ kind: 'begin sweep' });
    expect(at.refused({ kind: 'take station' })).toBe('no-fresh-reading');
    at.nowMs += 1000;
    at.reads('indicator', 0.1);
    at.must({ kind: 'take back' });
    expect(at.refused({ kind: 'take station' })).toBe('no-fresh-reading');
    expect(at.stations()).toHaveLength(1);
  });
});
