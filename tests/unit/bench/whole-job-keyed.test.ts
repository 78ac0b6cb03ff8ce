import type { KeyedAs, SetupChange, TapAdvice } from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';
import { AtTheBench, STATIONS_MM } from './at-the-bench.ts';

const INCHES: KeyedAs = { kind: 'length', unit: 'in' };
const MM: KeyedAs = { kind: 'length', unit: 'mm' };
const THOU: KeyedAs = { kind: 'thousandths', unit: 'in' };
const HALF_THOU_DIAL: KeyedAs = { kind: 'divisions', graduationMm: 0.0127 };

const BY_LEFT_CLAMP: SetupChange = {
  pivot: { choice: 'left clamp', typedMm: 0, uncertaintyMm: 8, acrossMm: null, learn: true },
  malletMm: 147,
};
const BY_RIGHT_CLAMP: SetupChange = {
  pivot: { ...BY_LEFT_CLAMP.pivot!, choice: 'right clamp' },
  malletMm: -20,
};
const BY_CENTRE: SetupChange = {
  pivot: { ...BY_LEFT_CLAMP.pivot!, choice: 'swivel centre' },
  malletMm: 147,
};

interface Case {
  name: string;
  setup: SetupChange;
  typed: string[];
  slope: number;
  tap: TapAdvice;
  stopMm: number;
}

/*
 * Worked by hand. Height of the surface y, positive away: y = -reading where the reading rises toward the
 * operator, +reading where it rises away. Line y = a + b x over a bar of 127 mm; clamps at -8 and 135, centre
 * at 63.5, mallet at 147 or -20. The surface at the mallet must move d = (t - b)(x_mallet - x_pivot), positive
 * away; the bar turns clockwise where b > t. Stop, nothing parked, at the line's height at the pivot.
 */
const CASES: Case[] = [
  {
    // b = -0.1016 / 127 = -0.0008; d = 0.0008 x 155 = 0.124; y(-8) = 0.0064.
    name: 'inches, rising toward, right end 0.0040 in nearer, pivot left',
    setup: { ...BY_LEFT_CLAMP, keyedAs: INCHES, rises: 'toward' },
    typed: ['0', '0.0010', ',0020', '.0030', '+0.0040'],
    slope: -0.0008,
    tap: { end: 'right', direction: 'away', amountMm: 0.124, turn: 'counter-clockwise' },
    stopMm: -0.0064,
  },
  {
    // The mirror of it in sense: b = +0.0008, d = -0.124, y(-8) = -0.0064 and the reading is y.
    name: 'thousandths, rising away, right end farther, pivot left',
    setup: { ...BY_LEFT_CLAMP, keyedAs: THOU, rises: 'away' },
    typed: ['0', '1', '2,0', '3', '4'],
    slope: 0.0008,
    tap: { end: 'right', direction: 'toward', amountMm: 0.124, turn: 'clockwise' },
    stopMm: -0.0064,
  },
  {
    // Eight divisions of 0.0005 in are 0.0040 in.
    name: 'divisions of a .0005 dial, rising toward, pivot left',
    setup: { ...BY_LEFT_CLAMP, keyedAs: HALF_THOU_DIAL, rises: 'toward' },
    typed: ['0', '+2', '+4', '+6', '+8'],
    slope: -0.0008,
    tap: { end: 'right', direction: 'away', amountMm: 0.124, turn: 'counter-clockwise' },
    stopMm: -0.0064,
  },
  {
    // d = 0.0008 x (-20 - 135) = -0.124; y(135) = -0.108, reading +0.108.
    name: 'inches, rising toward, pivot right, mallet left',
    setup: { ...BY_RIGHT_CLAMP, keyedAs: INCHES, rises: 'toward' },
    typed: ['0', '0.0010', '0.0020', '0.0030', '0.0040'],
    slope: -0.0008,
    tap: { end: 'left', direction: 'toward', amountMm: 0.124, turn: 'counter-clockwise' },
    stopMm: 0.108,
  },
  {
    // b = 0.127 / 127 = 0.001; d = -0.001 x (-155) = 0.155; y(135) = 0.135 = reading.
    name: 'millimetres, rising away, pivot right, mallet left',
    setup: { ...BY_RIGHT_CLAMP, keyedAs: MM, rises: 'away' },
    typed: ['0,000', '0,03175', '0,0635', '0,09525', '0,127'],
    slope: 0.001,
    tap: { end: 'left', direction: 'away', amountMm: 0.155, turn: 'clockwise' },
    stopMm: 0.135,
  },
  {
    // b = -0.001; d = 0.001 x (147 - 63.5) = 0.0835; y(63.5) = -0.0635, reading +0.0635.
    name: 'millimetres, rising toward, about the centre',
    setup: { ...BY_CENTRE, keyedAs: MM, rises: 'toward' },
    typed: ['0', '0.03175', '0.0635', '0.09525', '0.127'],
    slope: -0.001,
    tap: { end: 'right', direction: 'away', amountMm: 0.0835, turn: 'counter-clockwise' },
    stopMm: 0.0635,
  },
  {
    // A zero elsewhere moves the height, not the slope: a = -0.5, y(-8) = -0.508, reading y.
    name: 'millimetres with the zero far away',
    setup: { ...BY_LEFT_CLAMP, keyedAs: MM, rises: 'away' },
    typed: ['-0.5', '-0.46825', '-0.4365', '-0.40475', '-0.373'],
    slope: 0.001,
    tap: { end: 'right', direction: 'toward', amountMm: 0.155, turn: 'clockwise' },
    stopMm: -0.508,
  },
  {
    // Stylus at 60 degrees: true = reading x cos 60 = half. b = 0.0005; d = -0.0775; y(-8) = -0.004 is shown as -0.008.
    name: 'millimetres by a stylus inclined at 60 degrees',
    setup: {
      ...BY_LEFT_CLAMP,
      keyedAs: MM,
      rises: 'away',
      stylus: { kind: 'stylus angle', rad: Math.PI / 3 },
    },
    typed: ['0', '0.03175', '0.0635', '0.09525', '0.127'],
    slope: 0.0005,
    tap: { end: 'right', direction: 'toward', amountMm: 0.0775, turn: 'clockwise' },
    stopMm: -0.008,
  },
];

describe('the advice equals the hand calculation', () => {
  test.each(CASES)('$name', ({ setup, typed, slope, tap, stopMm }) => {
    const at = new AtTheBench(setup);
    at.sweepKeyed(typed);
    const { result } = at;
    expect(result.slope).toBeCloseTo(slope, 12);
    expect(result.outOfTrueRad).toBeCloseTo(Math.atan(slope), 12);
    expect(result.endToEndMm).toBeCloseTo(slope * 127, 12);
    expect({ ...result.tap, amountMm: tap.amountMm }).toEqual(tap);
    expect(result.tap!.amountMm).toBeCloseTo(tap.amountMm, 10);
    expect(result.tapToReadingMm).toBeCloseTo(stopMm, 10);
    expect(result.verdict).toBe('not true');
  });

  test.each(CASES)(
    'and with a pass back, lagging by 0.004 mm, the same: $name',
    ({ setup, typed, slope, tap }) => {
      const at = new AtTheBench({ ...setup, keyedAs: MM, backPass: true });
      const keyed = new AtTheBench(setup);
      keyed.sweepKeyed(typed);
      const readings = keyed.stations().map((station) => station.readingMm);
      at.sweepKeyed([
        ...readings.map((mm) => mm.toFixed(6)),
        ...readings.toReversed().map((mm) => (mm + 0.004).toFixed(6)),
      ]);
      const { result } = at;
      expect(result.passes.map((pass) => pass.pass)).toEqual(['out', 'back']);
      expect(result.slope).toBeCloseTo(slope, 7);
      expect(result.tap!.amountMm).toBeCloseTo(tap.amountMm, 5);
      // 0.004 on the dial is farther away, or nearer, by the sense; less by the cosine of the stylus.
      const perReading = (setup.rises === 'toward' ? -1 : 1) * (setup.stylus ? 0.5 : 1);
      expect(result.gapMm).toBeCloseTo(0.004 * perReading, 6);
      expect(result.closureMm).toBeCloseTo(0.004 * perReading, 6);
    },
  );
});

describe('the limit', () => {
  // b = 0.0003: over the 127 mm swept 0.0381 mm, over 50 mm 0.015, as an angle 61.88 seconds.
  const typed = STATIONS_MM.map((xMm) => (0.0003 * xMm).toFixed(6));
  test.each([
    ['end to end over the swept length', { kind: 'end to end', mm: 0.0382, overMm: null }, 'true'],
    ['just tighter', { kind: 'end to end', mm: 0.038, overMm: null }, 'not true'],
    ['over another length', { kind: 'end to end', mm: 0.01501, overMm: 50 }, 'true'],
    [
      'over another length, just tighter',
      { kind: 'end to end', mm: 0.01499, overMm: 50 },
      'not true',
    ],
    ['as an angle', { kind: 'angle', rad: 0.00030001 }, 'true'],
    ['as an angle, just tighter', { kind: 'angle', rad: 0.00029999 }, 'not true'],
    ['not set', null, null],
  ] as const)('%s', (_case, limit, verdict) => {
    const at = new AtTheBench({ rises: 'away', keyedAs: MM, limit, decisionRule: 'plain' });
    at.sweepKeyed(typed);
    expect(at.result.verdict).toBe(verdict);
  });

  test('two stations are guarded by 1.645 u once it is known what the bench repeats to: true, too close to call, not true', () => {
    // Typed to 0.001 mm on an exact line: 0.001 / (sqrt(6) 127) = 3.2146e-6; repeats to 0.001 mm: sqrt(2) 0.001 / 127
    // = 1.11355e-5; together u = 1.15902e-5, guard 1.644854 u = 1.90642e-5.
    const atWith = (mm: number, repeatabilityMm: number | null = 0.001) => {
      const at = new AtTheBench({
        rises: 'away',
        keyedAs: MM,
        stationsMm: [0, 127],
        limit: { kind: 'angle', rad: mm },
        indicator: { resolutionMm: null, permissibleErrorMm: null, rangeMm: null, repeatabilityMm },
      });
      at.sweepKeyed(['0.000', '0.127']);
      return at.result.verdict;
    };
    const [deviation, guard] = [Math.atan(0.001), 1.90642e-5];
    expect(atWith(deviation + guard * 1.01)).toBe('true');
    expect(atWith(deviation + guard * 0.99)).toBe('too close to call');
    expect(atWith(deviation - guard * 0.99)).toBe('too close to call');
    expect(atWith(deviation - guard * 1.01)).toBe('not true');
    expect(atWith(1, null)).toBe('too close to call');
  });
});

describe('a slope that the line is to have', () => {
  test('is what the tap leads to: d = (t - b)(x_mallet - x_pivot), and the stop reading is for a station', () => {
    // t = 0.002, b = 0.001: d = 0.001 x 155 = 0.155 away. Parked at 127: y + 0.001 x 135 = y + 0.135.
    const at = new AtTheBench({ ...BY_LEFT_CLAMP, rises: 'away', keyedAs: MM, targetSlope: 0.002 });
    at.sweepKeyed(['0', '0.03175', '0.0635', '0.09525', '0.127']);
    expect(at.result.tap).toMatchObject({ end: 'right', direction: 'away' });
    expect(at.result.tap!.amountMm).toBeCloseTo(0.155, 10);
    expect(at.result.tapToReadingMm).toBeNull();
    at.must({ kind: 'park', xMm: 127, keyed: '0.127' });
    expect(at.state.tap!.tapToReadingMm).toBeCloseTo(0.262, 10);
  });

  test('reached, is true', () => {
    const at = new AtTheBench({ rises: 'away', keyedAs: MM, targetSlope: 0.001 });
    at.must({ kind: 'set stage', stage: 'tight' });
    at.sweepKeyed(['0', '0.03175', '0.0635', '0.09525', '0.127']);
    expect(at.result.deviationArcsec).toBeCloseTo(0, 9);
    expect(at.job.standing).toBe('true');
  });
});

describe('taking stations', () => {
  test('what was typed wrongly is refused and nothing is taken; the next typing goes to the same station', () => {
    const at = new AtTheBench({ rises: 'toward' });
    at.must({ kind: 'begin sweep' });
    at.keyStation('0.0001');
    for (const typed of ['1,234.5', 'abc', '0.1 furlong']) {
      expect(at.refused({ kind: 'take station', keyed: typed })).toBe('keyed-not-read');
    }
    expect(at.refused({ kind: 'take station' })).toBe('nothing-typed');
    expect(at.state.sweep!.nextStation).toEqual({ index: 1, xMm: 31.75, pass: 'out' });
    expect(at.stations()).toHaveLength(1);
  });

  test('one taken back is asked for again and stays on the record', () => {
    const at = new AtTheBench({ rises: 'away', keyedAs: MM, stationsMm: [0, 127] });
    at.must({ kind: 'begin sweep' });
    expect(at.refused({ kind: 'take back' })).toBe('nothing-to-take-back');
    at.keyStation('9.9');
    at.must({ kind: 'take back' });
    at.keyStation('0');
    at.keyStation('0.127');
    expect(at.result.slope).toBeCloseTo(0.001, 12);
    expect(at.stations().map((station) => station.readingMm)).toEqual([9.9, 0, 0.127]);
  });

  test('an abandoned sweep gives no result, keeps the last one, and stays on the record', () => {
    const at = new AtTheBench({ rises: 'toward' });
    at.sweepKeyed(['0', '0.0010', '0.0020', '0.0030', '0.0040']);
    const { result } = at;
    at.must({ kind: 'begin sweep' });
    at.keyStation('0.5');
    at.must({ kind: 'abandon sweep' });
    expect(at.state.sweep).toMatchObject({ id: 1, state: 'ended' });
    expect(at.result.slope).toBe(result.slope);
    expect(at.state.history.sweeps).toHaveLength(1);
    const lastEnded = at.recorded.findLast((entry) => entry.entry === 'sweep ended');
    expect(lastEnded).toMatchObject({ sweep: 2, result: null });
    expect(at.refused({ kind: 'abandon sweep' })).toBe('no-sweep');
  });

  test('ended by hand after one station there is no line, and it is said why', () => {
    const at = new AtTheBench({ rises: 'toward' });
    at.must({ kind: 'begin sweep' });
    at.keyStation('0');
    expect(at.must({ kind: 'end sweep' })).toContain('without a line');
    expect(at.state.sweep).toMatchObject({ state: 'ended', result: null });
    expect(at.state.sweep!.noResultYet.length).toBeGreaterThan(20);
    expect(at.state.history.sweeps).toEqual([]);
  });

  test.each([
    [{ stationsMm: [0, 60, 127] }],
    [{ way: 'readout' }],
    [{ backPass: true }],
    [{ axis: 'y' }],
    [{ entry: 'device' }],
    [{ keyedAs: MM }],
    [{ counts: -1 }],
    [{ leftEndCountMm: 3 }],
    [{ feed: { startsAt: 'right', distanceMm: 1, mmPerMin: null } }],
    [{ rises: 'away', stationsMm: [0, 127] }],
  ] as const)('%j may not change under a sweep', (change) => {
    const at = new AtTheBench({ rises: 'toward' });
    at.must({ kind: 'begin sweep' });
    const before = at.state.setup;
    const asked = { kind: 'change setup', change: change as SetupChange } as const;
    expect(at.refused(asked)).toBe('sweep-being-taken');
    expect(at.state.setup).toBe(before);
    expect(at.refused({ kind: 'set stage', stage: 'tight' })).toBe('sweep-being-taken');
    expect(at.refused({ kind: 'begin sweep' })).toBe('sweep-being-taken');
    expect(at.refused({ kind: 'park', xMm: 127, keyed: '0' })).toBe('sweep-being-taken');
    at.must({ kind: 'abandon sweep' });
    at.must(asked);
  });
});

test('the last result follows a change of pivot and of unit, and a sense told after it, at once', () => {
  const at = new AtTheBench(BY_LEFT_CLAMP);
  at.sweepKeyed(['0', '0.0010', '0.0020', '0.0030', '0.0040']);
  at.must({ kind: 'change setup', change: { rises: 'away' } });
  expect(at.result.tap).toMatchObject({ end: 'right', direction: 'toward' });
  at.must({ kind: 'change setup', change: BY_RIGHT_CLAMP });
  expect(at.result.tap).toMatchObject({ end: 'left', direction: 'away' });
  at.must({ kind: 'change setup', change: { displayUnit: 'mm' } });
  expect(at.result.sentence).toContain('0.124 mm');
  expect(at.state.history.sweeps[0]!.result).toEqual(at.result);
});
