import { describe, expect, test } from 'vitest';
import { AtTheBench, STATIONS_MM } from './at-the-bench.ts';

const BY_TAPS = 'Reckoned on from the taps since the last sweep: a new sweep is surer.';

/*
 * b = 0.0008 on a zero at the left end, pivot at -8, stylus at 127: lever 135. One tap from 0.1016 to 0.0746
 * turns by -0.027 / 135 = -0.0002 about the pivot: b = 0.0006, a = 0 - (-0.0002)(-8) = -0.0016. At the mallet
 * (147) remains -0.0006 x 155 = -0.093; stop where the line is level at the height of the pivot,
 * 0.0008 x -8 = -0.0064, wherever the stylus stands.
 */
function tappedOnce(sign: 1 | -1 = 1) {
  const at = new AtTheBench({
    rises: sign === 1 ? 'away' : 'toward',
    keyedAs: { kind: 'length', unit: 'mm' },
    displayUnit: 'mm',
  });
  const dial = (yMm: number) => (sign * yMm).toFixed(4);
  at.sweepKeyed(STATIONS_MM.map((xMm) => dial(0.0008 * xMm)));
  at.must({ kind: 'park', xMm: 127, keyed: dial(0.1016) });
  at.must({ kind: 'tap reading', keyed: dial(0.0746) });
  return { at, dial };
}

describe('parked again after a tap, what was tapped already is not asked for again', () => {
  test.each([
    [1, 127, 0.0746],
    [1, 63.5, 0.0365],
    [-1, 127, 0.0746],
    [-1, 63.5, 0.0365],
  ] as const)('in sense %d at %d mm', (sign, xMm, yMm) => {
    const { at, dial } = tappedOnce(sign);
    at.must({ kind: 'leave tap' });
    at.must({ kind: 'park', xMm, keyed: dial(yMm) });
    expect(at.state.tap!.remainingAtMalletMm).toBeCloseTo(-0.093, 9);
    expect(at.state.tap!.tapToReadingMm).toBeCloseTo(sign * -0.0064, 9);
    expect(at.state.tap!.sweepAgain).toBe(BY_TAPS);
  });

  test('nor where the stylus is moved without a word and tapped on, three times over', () => {
    const { at, dial } = tappedOnce();
    // To 63.5, lever 71.5: from 0.0365 by -0.0143 to b = 0.0004; then back to 127, -0.0064 + 0.0004 x 135.
    at.must({ kind: 'park', xMm: 63.5, keyed: dial(0.0365) });
    at.must({ kind: 'tap reading', keyed: dial(0.0222) });
    at.must({ kind: 'park', xMm: 127, keyed: dial(0.0476) });
    expect(at.state.tap!.remainingAtMalletMm).toBeCloseTo(-0.0004 * 155, 9);
    expect(at.state.tap!.sweepAgain).toBe(BY_TAPS);
  });

  test('nor where the other end is tapped next: each parking turned about its own pivot', () => {
    const { at, dial } = tappedOnce();
    at.must({ kind: 'leave tap' });
    const pivot = { ...at.state.setup.pivot, choice: 'right clamp' } as const;
    at.must({ kind: 'change setup', change: { pivot, malletMm: -20 } });
    at.must({ kind: 'park', xMm: 0, keyed: dial(-0.0016) });
    // The line's height at 135: -0.0016 + 0.0006 x 135.
    expect(at.state.tap!.tapToReadingMm).toBeCloseTo(0.0794, 9);
    expect(at.state.tap!.sweepAgain).toBe(BY_TAPS);
  });

  test('an abandoned sweep between takes nothing from it; a sweep ends it', () => {
    const { at, dial } = tappedOnce();
    at.must({ kind: 'begin sweep' });
    at.must({ kind: 'abandon sweep' });
    at.must({ kind: 'park', xMm: 127, keyed: dial(0.0746) });
    expect(at.state.tap!.remainingAtMalletMm).toBeCloseTo(-0.093, 9);
    at.sweepKeyed(STATIONS_MM.map((xMm) => dial(-0.0016 + 0.0006 * xMm)));
    at.must({ kind: 'park', xMm: 127, keyed: dial(0.0746) });
    expect(at.state.tap!.sweepAgain).toBe('');
  });

  test('at another station a reading far from what sweep and taps found is said', () => {
    const { at, dial } = tappedOnce();
    at.must({ kind: 'park', xMm: 63.5, keyed: dial(0.0865) });
    expect(at.state.tap!.sweepAgain).toContain('0.050 mm from what the sweep and the taps since');
  });
});

describe('after a tap it wants a sweep first where', () => {
  test.each([
    [
      'the clamps were changed and put back',
      (at: AtTheBench) => {
        at.must({ kind: 'set stage', stage: 'snug' });
        at.must({ kind: 'set stage', stage: 'nipped' });
      },
      'clamps',
    ],
    ['the zero moved', (at: AtTheBench) => at.must({ kind: 'zero moved' }), 'zeroed or moved'],
    [
      'the indicator was unplugged',
      (at: AtTheBench) => {
        at.connect('indicator');
        at.must({ kind: 'leave tap' });
        at.report('indicator', { state: 'lost' });
      },
      'disconnected',
    ],
  ])('%s', (_case, happens, why) => {
    const { at, dial } = tappedOnce();
    happens(at);
    const answer = at.say({ kind: 'park', xMm: 127, keyed: dial(0.0746) });
    expect(answer).toMatchObject({ ok: false, fault: { code: 'sweep-first' } });
    if (!answer.ok) expect(answer.fault.got).toContain(why);
    at.sweepKeyed(STATIONS_MM.map((xMm) => dial(0.0006 * xMm)));
    at.must({ kind: 'park', xMm: 127, keyed: dial(0.0762) });
  });

  test('the needle shows another reading at the same station: it was not left alone', () => {
    const { at, dial } = tappedOnce();
    at.must({ kind: 'leave tap' });
    const answer = at.say({ kind: 'park', xMm: 127, keyed: dial(0.0446) });
    expect(answer).toMatchObject({ ok: false, fault: { code: 'sweep-first' } });
    if (!answer.ok)
      expect(answer.fault.got).toContain('left at +0.075 mm here, and shows +0.045 mm');
  });

  test('it was parked and tapped twenty-one times without a sweep', () => {
    const { at, dial } = tappedOnce();
    for (let parkings = 2; parkings <= 21; parkings += 1) {
      at.must({ kind: 'park', xMm: 127, keyed: dial(0.0746) });
    }
    expect(at.refused({ kind: 'park', xMm: 127, keyed: dial(0.0746) })).toBe('sweep-first');
  });
});

test.each([
  ['a zero that moved', (at: AtTheBench) => at.must({ kind: 'zero moved' })],
  [
    'loosening to tap at all',
    (at: AtTheBench) => {
      at.must({ kind: 'set stage', stage: 'free' });
    },
  ],
])('%s before the first tap stands against nothing', (_case, happens) => {
  const { at, dial } = tappedOnce();
  at.must({ kind: 'change setup', change: { pivot: { ...at.state.setup.pivot, learn: false } } });
  at.sweepKeyed(STATIONS_MM.map((xMm) => dial(0.0006 * xMm)));
  happens(at);
  for (const yMm of [0.0762, 0.0492]) {
    at.must({ kind: 'park', xMm: 127, keyed: dial(yMm) });
    at.must({ kind: 'tap reading', keyed: dial(0.0492) });
  }
  expect(at.state.tap!.remainingAtMalletMm).toBeCloseTo(-0.0004 * 155, 9);
});
