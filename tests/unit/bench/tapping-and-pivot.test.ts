import type { KeyedAs, SetupChange } from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';
import { AtTheBench, STATIONS_MM } from './at-the-bench.ts';

const MM: KeyedAs = { kind: 'length', unit: 'mm' };
const typedLine = (aMm: number, b: number) => STATIONS_MM.map((xMm) => (aMm + b * xMm).toFixed(6));

/** Swept in millimetres, six digits, with the line y = a + b x; the mallet at the right end, pivot declared at -8. */
function sweptAway(aMm: number, b: number, setup: SetupChange = {}): AtTheBench {
  const at = new AtTheBench({ rises: 'away', keyedAs: MM, displayUnit: 'mm', ...setup });
  at.sweepKeyed(typedLine(aMm, b));
  return at;
}

describe('tapping counts down to the stop reading', () => {
  /*
   * b = 0.0008, pivot -8, stylus at 127: lever 135; stop at y + (0 - b) 135 = 0.1016 - 0.108 = -0.0064.
   * Slope now = b + (y - 0.1016) / 135; at the mallet remains -(slope now) x 155.
   */
  test.each([
    ['away', 1],
    ['toward', -1],
  ] as const)('with the dial rising %s', (rises, sign) => {
    const at = new AtTheBench({ rises, keyedAs: MM, displayUnit: 'mm' });
    const dial = (yMm: number) => (sign * yMm).toFixed(4);
    at.sweepKeyed(STATIONS_MM.map((xMm) => dial(0.0008 * xMm)));
    at.must({ kind: 'park', xMm: 127, keyed: dial(0.1016) });
    expect(at.state.tap).toMatchObject({ standing: 'keep tapping', sweepAgain: '', steps: [] });
    expect(at.state.tap!.tapToReadingMm).toBeCloseTo(sign * -0.0064, 10);
    const rows = [
      // y, remaining at the mallet, standing, effect
      [0.0746, -0.093, 'keep tapping', 'closer'],
      [0.0881, -0.1085, 'keep tapping', 'farther'],
      [0.0881, -0.1085, 'keep tapping', 'nothing moved'],
      [0.0071, -0.0155, 'stop', 'closer'],
      [-0.0334, 0.031, 'past', 'past'],
      [-0.0064, 0, 'stop', 'closer'],
    ] as const;
    // The limit, 0.0002, is 0.027 at the stylus: [-0.0334, 0.0206]; a hair beyond its edge counts as past.
    for (const [yMm, remainingMm, standing, effect] of rows) {
      const shown = yMm === -0.0334 ? -0.0336 : yMm;
      at.must({ kind: 'tap reading', keyed: dial(shown) });
      expect(at.state.tap!.steps.at(-1)!.effect).toBe(effect);
      expect(at.state.tap!.standing).toBe(standing);
      expect(at.state.tap!.remainingAtMalletMm).toBeCloseTo(remainingMm, 3);
    }
    expect(at.state.tap!.steps.map((step) => step.number)).toEqual([1, 2, 3, 4, 5, 6]);
    const turned = at.state.tap!.steps.reduce((sum, step) => sum + step.turnedArcsec, 0);
    // From 0.0008 to level: clockwise by atan(0.0008).
    expect((turned * Math.PI) / 648_000).toBeCloseTo(-Math.atan(0.0008), 9);
    expect(at.recorded.filter((entry) => entry.entry === 'tap step')).toHaveLength(6);
  });

  test.each([
    [-8 + 12.6, 'parked-near-pivot'],
    [-8 - 12.6, 'parked-near-pivot'],
    [-8, 'parked-near-pivot'],
    [-8 + 12.8, null],
  ])(
    'parked at %d, with a tenth of the swept 127 mm wanted to the pivot at -8: %j',
    (xMm, refusal) => {
      const at = sweptAway(0, 0.0008);
      expect(at.refused({ kind: 'park', xMm, keyed: '0' })).toBe(refusal);
      expect(at.state.tap === null).toBe(refusal !== null);
    },
  );

  test.each([
    ['without a sweep', {}, 'nothing-to-tap-by'],
    ['with the sense not known', { rises: null }, 'sense-not-known'],
  ] as const)('parked %s is refused', (_case, setup, refusal) => {
    const at = new AtTheBench({ rises: 'away', keyedAs: MM, ...setup });
    if (refusal !== 'nothing-to-tap-by') at.sweepKeyed(typedLine(0, 0.0008));
    expect(at.refused({ kind: 'park', xMm: 127, keyed: '0' })).toBe(refusal);
  });

  test('with the pivot at the end that was chosen to strike, the other end is struck, and why is said', () => {
    const at = sweptAway(0, 0.0008, { malletMm: -7.5 });
    // The vise spans -20 to 147: the same place at its other end is 147 - 20 + 7.5.
    expect(at.state.pivot.malletMm).toBe(134.5);
    expect(at.state.pivot.sentence).toContain('strike at the right end');
    expect(at.result.tap).toMatchObject({ end: 'right', direction: 'toward' });
    expect(at.result.cautions.map(({ code }) => code)).toContain('strike-other-end');
    at.must({ kind: 'park', xMm: 127, keyed: '0.1016' });
    expect(at.state.tap!.tapToReadingMm).toBeCloseTo(-0.0064, 10);
  });

  test('a reading typed wrongly, or with nothing parked, is refused', () => {
    const at = sweptAway(0, 0.0008);
    expect(at.refused({ kind: 'tap reading', keyed: '0.1' })).toBe('not-parked');
    at.must({ kind: 'park', xMm: 127, keyed: '0.1016' });
    expect(at.refused({ kind: 'tap reading', keyed: '0,1,2' })).toBe('keyed-not-read');
    expect(at.state.tap!.steps).toEqual([]);
  });

  test('a dial that shows elsewhere than the sweep found is said to have been moved', () => {
    const at = sweptAway(0, 0.0008);
    at.must({ kind: 'park', xMm: 127, keyed: '0.0500' });
    expect(at.state.tap!.sweepAgain).toContain('0.052 mm from what the sweep found');
  });

  test('a stop reading is reckoned anew where the pivot is changed under it', () => {
    const at = sweptAway(0, 0.0008);
    at.must({ kind: 'park', xMm: 127, keyed: '0.1016' });
    const pivot = { ...at.state.setup.pivot, choice: 'typed', typedMm: 27 } as const;
    at.must({ kind: 'change setup', change: { pivot } });
    // Lever 100: 0.1016 - 0.08.
    expect(at.state.tap!.tapToReadingMm).toBeCloseTo(0.0216, 10);
    at.must({ kind: 'change setup', change: { pivot: { ...pivot, typedMm: 120 } } });
    expect(at.state.tap).toBeNull();
  });

  test('tightening ends it: what the needle shows then is the clamps’ doing', () => {
    const at = sweptAway(0, 0.0008);
    at.must({ kind: 'park', xMm: 127, keyed: '0.1016' });
    at.must({ kind: 'set stage', stage: 'snug' });
    expect(at.state.tap).toBeNull();
  });
});

describe('the pivot is learned where two lines on one zero cross', () => {
  // Before y = 0.001 x; after, level at y = -0.003: they cross at x = -3, where the vise truly turned.
  const tap = (at: AtTheBench) => {
    at.must({ kind: 'park', xMm: 127, keyed: '0.127' });
    at.must({ kind: 'tap reading', keyed: '-0.003' });
    at.must({ kind: 'leave tap' });
    return at;
  };
  const sweptFirst = () => tap(sweptAway(0, 0.001));
  const AFTER = typedLine(-0.003, 0);

  test('blended with the declared one by inverse variance, and used for the advice from then on', () => {
    const at = sweptFirst();
    at.sweepKeyed(AFTER);
    expect(at.state.pivot).toMatchObject({ inUse: 'learned', declaredMm: -8 });
    const [evidence] = at.state.pivot.evidence;
    expect(evidence).toMatchObject({ used: true, stage: 'nipped', end: 'right' });
    expect(evidence!.xMm).toBeCloseTo(-3, 9);
    const u = evidence!.uncertaintyMm!;
    const [declaredWeight, learnedWeight] = [8 ** -2, u ** -2];
    expect(at.state.pivot.xMm).toBeCloseTo(
      (-8 * declaredWeight - 3 * learnedWeight) / (declaredWeight + learnedWeight),
      9,
    );
    expect(at.state.pivot.uncertaintyMm).toBeLessThan(u);
  });

  test.each([
    ['declared by the user', (at: AtTheBench) => at.must({ kind: 'zero moved' })],
    [
      'an indicator unplugged between them',
      (at: AtTheBench) => {
        at.connect('indicator');
        at.report('indicator', { state: 'lost' });
      },
    ],
    [
      'an indicator seen to jump to zero and stay',
      (at: AtTheBench) => {
        at.connect('indicator');
        at.rests('indicator', 0.5);
        at.rests('indicator', 0);
      },
    ],
    [
      'clamps changed between them',
      (at: AtTheBench) => at.must({ kind: 'set stage', stage: 'snug' }),
    ],
  ])('never from a zero that moved or clamps that changed: %s', (_case, happens) => {
    const at = sweptFirst();
    happens(at);
    at.sweepKeyed(AFTER);
    expect(at.state.pivot).toMatchObject({ inUse: 'declared', xMm: -8 });
    expect(at.state.pivot.evidence).toMatchObject([{ used: false, xMm: null }]);
    expect(at.state.pivot.evidence[0]!.why).not.toBe('');
  });

  test('nor from one that was only noticed while the second sweep was taken; the sweep after it is compared again', () => {
    const at = sweptFirst();
    at.must({ kind: 'begin sweep' });
    at.keyStation(AFTER[0]!);
    at.must({ kind: 'zero moved' });
    for (const typed of AFTER.slice(1)) at.keyStation(typed);
    expect(at.state.history.sweeps.at(-1)!.zeroMoved).toContain('zeroed');
    at.sweepKeyed(typedLine(0, 0.001));
    tap(at);
    at.sweepKeyed(AFTER);
    expect(at.state.pivot.evidence.map((row) => row.used)).toEqual([false, false, true]);
  });

  test('a turn that nobody is known to have made is asked about; what is not answered for teaches nothing', () => {
    const at = sweptAway(0, 0.001);
    at.sweepKeyed(AFTER);
    expect(at.state.pivot).toMatchObject({ inUse: 'declared', question: { asks: 'untapped' } });
    expect(at.state.pivot.evidence).toMatchObject([{ used: false }]);
    at.must({ kind: 'answer turn', yes: false });
    expect(at.state.pivot).toMatchObject({ inUse: 'declared', question: null });
    expect(at.refused({ kind: 'answer turn', yes: true })).toBe('no-turn-asked');
  });

  test('told that it was tapped, it teaches', () => {
    const at = sweptAway(0, 0.001);
    at.sweepKeyed(AFTER);
    at.must({ kind: 'answer turn', yes: true });
    expect(at.state.pivot).toMatchObject({ inUse: 'learned', question: null });
  });

  /** Turned about 60, 68 from where it was declared: y = 0.001 x, then y = 0.06 everywhere. */
  const ELSEWHERE = typedLine(0.06, 0);

  test('lines that cross far from where the vise was said to turn are asked about, not blended', () => {
    const at = sweptFirst();
    at.sweepKeyed(ELSEWHERE);
    expect(at.state.pivot).toMatchObject({
      inUse: 'declared',
      xMm: -8,
      question: { asks: 'elsewhere' },
    });
    expect(at.state.pivot.question!.text).toMatch(/60 mm from the left end; you said 8 mm outside/);
    at.must({ kind: 'answer turn', yes: true });
    expect(at.state.pivot).toMatchObject({ inUse: 'learned', question: null });
    expect(at.state.pivot.xMm).toBeCloseTo(60, 6);
  });

  test('left unanswered, a second turn that shows the same place is believed', () => {
    const at = sweptFirst();
    at.sweepKeyed(ELSEWHERE);
    at.must({ kind: 'answer turn', yes: false });
    expect(at.state.pivot).toMatchObject({ inUse: 'declared', xMm: -8 });
    at.must({ kind: 'park', xMm: 127, keyed: '0.06' });
    at.must({ kind: 'tap reading', keyed: '0.0399' });
    at.sweepKeyed(typedLine(0.078, -0.0003));
    expect(at.state.pivot.inUse).toBe('learned');
    expect(at.state.pivot.xMm).toBeCloseTo(60, 1);
  });

  test('a line that lies elsewhere with nothing tapped was zeroed; the same line again was not', () => {
    const at = sweptAway(0, 0.001);
    at.sweepKeyed(typedLine(0, 0.001));
    expect(at.state.history.sweeps.at(-1)!.zeroMoved).toBeNull();
    at.sweepKeyed(typedLine(0.05, 0.001));
    expect(at.state.history.sweeps.at(-1)!.zeroMoved).toContain('the dial was zeroed');
    expect(at.state.pivot.question).toBeNull();
  });

  test('nor where the turn was too small to tell', () => {
    const at = sweptFirst();
    at.sweepKeyed(typedLine(-0.0001, 0.001));
    expect(at.state.pivot.evidence[0]!.why).toContain('too small');
  });

  test('for its stage only, less surely at the other end, and not at all where the user wants none', () => {
    const at = sweptFirst();
    at.sweepKeyed(AFTER);
    const inUse = () => at.state.pivot.inUse;
    const sure = at.state.pivot.uncertaintyMm;
    const { pivot: told } = at.state.setup;
    // Declared at the right clamp, so that the left end is struck; what the right end taught counts there too.
    at.must({
      kind: 'change setup',
      change: { malletMm: 5, vise: { ...at.state.setup.vise, leftEndMm: -60, rightEndMm: 187 } },
    });
    expect(at.state.pivot.malletMm).toBe(122);
    at.must({
      kind: 'change setup',
      change: { malletMm: -60, pivot: { ...told, uncertaintyMm: 1000 } },
    });
    expect(inUse()).toBe('learned');
    expect(at.state.pivot.uncertaintyMm).toBeGreaterThan(9);
    expect(at.state.pivot.uncertaintyMm).toBeGreaterThan(sure);
    at.must({
      kind: 'change setup',
      change: {
        malletMm: 147,
        pivot: told,
        vise: { ...at.state.setup.vise, leftEndMm: -20, rightEndMm: 147 },
      },
    });
    expect(inUse()).toBe('learned');
    at.must({ kind: 'set stage', stage: 'snug' });
    expect(inUse()).toBe('declared');
    at.must({ kind: 'set stage', stage: 'nipped' });
    const { pivot } = at.state.setup;
    at.must({ kind: 'change setup', change: { pivot: { ...pivot, learn: false } } });
    expect(inUse()).toBe('declared');
    at.must({ kind: 'change setup', change: { pivot } });
    expect(inUse()).toBe('learned');
    at.must({ kind: 'forget learned pivot' });
    expect([inUse(), at.state.pivot.evidence]).toEqual(['declared', []]);
  });

  test('and is gone with the job', () => {
    const at = sweptFirst();
    at.sweepKeyed(AFTER);
    at.must({ kind: 'new job' });
    expect(at.state.pivot).toMatchObject({ inUse: 'declared', evidence: [] });
    expect([at.state.sweep, at.state.history.sweeps, at.job.number]).toEqual([null, [], 2]);
  });
});

describe('only a sweep at tight ends the job as true', () => {
  const LEVEL = typedLine(0, 0);

  test('stage by stage, and what tightening turned is shown', () => {
    const at = sweptAway(0, 0);
    for (const stage of ['free', 'nipped', 'snug'] as const) {
      at.must({ kind: 'set stage', stage });
      expect(at.job.standing).toBe('loose');
      at.sweepKeyed(LEVEL);
      expect(at.result.verdict).toBe('true');
      expect(at.job).toMatchObject({ standing: 'loose' });
      expect(at.job.sentence).toContain('loose');
    }
    at.must({ kind: 'set stage', stage: 'tight' });
    expect(at.job.standing).toBe('not measured');
    at.sweepKeyed(typedLine(0, 0.0001));
    expect(at.job.standing).toBe('true');
    const { shiftArcsec } = at.state.history.sweeps.at(-1)!;
    expect((shiftArcsec! * Math.PI) / 648_000).toBeCloseTo(Math.atan(0.0001), 10);
  });

  test('a tap after it makes it unmeasured again; a look at the needle that shows the same does not', () => {
    const at = sweptAway(0, 0);
    at.must({ kind: 'set stage', stage: 'tight' });
    at.sweepKeyed(LEVEL);
    at.must({ kind: 'park', xMm: 127, keyed: '0.0000' });
    at.must({ kind: 'tap reading', keyed: '0.0000' });
    expect(at.job.standing).toBe('true');
    at.must({ kind: 'tap reading', keyed: '0.0030' });
    expect(at.job.standing).toBe('not measured');
    at.must({ kind: 'leave tap' });
    at.sweepKeyed(LEVEL);
    expect(at.job.standing).toBe('true');
    at.must({ kind: 'set stage', stage: 'snug' });
    expect(at.job.standing).toBe('loose');
  });

  test('while it is swept again nothing is claimed', () => {
    const at = sweptAway(0, 0);
    at.must({ kind: 'set stage', stage: 'tight' });
    at.sweepKeyed(LEVEL);
    at.must({ kind: 'begin sweep' });
    expect(at.job.standing).toBe('not measured');
  });

  test.each([
    [0.001, 'not true'],
    [0, 'true'],
  ])('a slope of %d at tight is %s', (b, standing) => {
    const at = new AtTheBench({ rises: 'away', keyedAs: MM });
    at.must({ kind: 'set stage', stage: 'tight' });
    at.sweepKeyed(typedLine(0, b));
    expect(at.job.standing).toBe(standing);
  });

  test('without a limit nothing is judged', () => {
    const at = new AtTheBench({ rises: 'away', keyedAs: MM, limit: null });
    at.must({ kind: 'set stage', stage: 'tight' });
    at.sweepKeyed(LEVEL);
    expect(at.job.standing).toBe('not measured');
  });
});
