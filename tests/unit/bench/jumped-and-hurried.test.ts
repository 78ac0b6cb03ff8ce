import { describe, expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

const PER_MM = 0.0002;

/** Swept by hand at 20 mm/s, fifty readings a second; `seen` is what the readout makes of the true place. */
function streamed(seen: (xMm: number) => number): AtTheBench {
  const at = new AtTheBench({
    way: 'readout',
    entry: 'device',
    counts: 1,
    rises: 'toward',
    displayUnit: 'mm',
  });
  at.connect('indicator');
  at.connect('readout');
  at.must({ kind: 'set stage', stage: 'tight' });
  at.must({ kind: 'begin sweep' });
  for (let xMm = 0; xMm <= 127; xMm += 0.4) {
    at.nowMs += 20;
    at.reads('readout', seen(xMm));
    at.reads('indicator', Math.round(xMm * PER_MM * 1000) / 1000);
    if (Math.round(xMm / 0.4) % 5 === 0) at.bench.tick(at.nowMs);
  }
  at.say({ kind: 'end sweep' });
  return at;
}

const codes = (at: AtTheBench) => at.result.cautions.map(({ code }) => code);

describe('a position that jumps', () => {
  test('a table that goes on evenly does not', () => {
    const at = streamed((xMm) => xMm);
    expect(codes(at)).not.toContain('position-jumped');
    expect(at.result.tap).not.toBeNull();
  });

  test.each<[string, (xMm: number) => number]>([
    ['reset to 0', (xMm) => (xMm < 60 ? xMm : xMm - 60)],
    ['wrapped by 100', (xMm) => xMm % 100],
    ['10 too much', (xMm) => (xMm < 60 ? xMm : xMm + 10)],
    ['50 too much', (xMm) => (xMm < 60 ? xMm : xMm + 50)],
    ['100 too much', (xMm) => (xMm < 60 ? xMm : xMm + 100)],
    ['one wild value', (xMm) => (Math.abs(xMm - 60) < 0.2 ? 999 : xMm)],
  ])('is named, and neither tapped by nor true: %s', (_what, seen) => {
    const at = streamed(seen);
    // The follower may take a reset for two turns and find no line at all: nothing is told from it either.
    if (at.state.sweep!.result === null) return;
    expect(codes(at)).toContain('position-jumped');
    expect([at.result.tap, at.result.tapToReadingMm]).toEqual([null, null]);
    expect(at.result.verdict).not.toBe('true');
    expect(at.result.sentence).not.toMatch(/Tap the/);
    at.nowMs += 20;
    at.reads('indicator', 0.02);
    at.reads('readout', seen(126.8));
    expect(at.refused({ kind: 'park', xMm: 127 })).toBe('no-line-to-tap-by');
  });
});

describe('two presses in feed', () => {
  function fed(seconds: number): AtTheBench {
    const at = new AtTheBench({ way: 'feed', entry: 'device', rises: 'toward', displayUnit: 'mm' });
    at.connect('indicator');
    at.must({ kind: 'set stage', stage: 'tight' });
    at.must({ kind: 'begin sweep' });
    at.must({ kind: 'start feed' });
    for (let ms = 0; ms < seconds * 1000; ms += 20) {
      at.nowMs += 20;
      at.reads('indicator', ms % 60 === 0 ? 0.001 : 0);
    }
    at.must({ kind: 'stop feed' });
    return at;
  }

  test.each([0.6, 1.9, 2.05])('after %d s are asked about, never true', (seconds) => {
    const at = fed(seconds);
    expect(codes(at)).toContain('swept-in-a-hurry');
    expect(at.job.standing).toBe('too close to call');
  });

  test('after 12 s are a sweep', () => {
    expect(fed(12).job.standing).toBe('true');
  });
});
