import {
  type IndicatorBuild,
  type IndicatorState,
  readIndicator,
  zeroed,
} from '@taptrue/simulators/indicator.ts';
import { Dice } from '@taptrue/simulators/random.ts';
import { readoutMm } from '@taptrue/simulators/readout.ts';
import { describe, expect, test } from 'vitest';

const PLAIN: IndicatorBuild = {
  rises: 'toward',
  resolutionMm: 0.001,
  rangeMm: 0.8,
  lagMm: 0,
  noiseMm: 0,
  driftMmPerMinute: 0,
  stylusFactor: 1,
};
const FRESH: IndicatorState = { zeroMm: 0, heldMm: null };

function shown(build: IndicatorBuild, surfaceMm: number | null, atMs = 0, state = FRESH) {
  return readIndicator(build, state, surfaceMm, atMs, new Dice(1));
}

describe('the sense of the indicator', () => {
  test.each([
    { rises: 'toward', surfaceMm: 0.1, showsMm: -0.1 },
    { rises: 'toward', surfaceMm: -0.1, showsMm: 0.1 },
    { rises: 'away', surfaceMm: 0.1, showsMm: 0.1 },
  ] as const)('rising $rises, surface at $surfaceMm shows $showsMm', (row) => {
    expect(shown({ ...PLAIN, rises: row.rises }, row.surfaceMm).shownMm).toBeCloseTo(
      row.showsMm,
      12,
    );
  });
});

test('readings come in steps of the resolution', () => {
  expect(shown({ ...PLAIN, rises: 'away', resolutionMm: 0.01 }, 0.1234).shownMm).toBeCloseTo(0.12);
});

test('beyond its range it stands at its stop, whatever the surface does', () => {
  const over = shown({ ...PLAIN, rises: 'away' }, 1.5);
  expect(over.shownMm).toBeCloseTo(0.8);
  expect(over.contact).toBe('at its stop');
  expect(shown({ ...PLAIN, rises: 'away' }, -9).shownMm).toBeCloseTo(-0.8);
});

test('off the work it keeps its last number, and has none before the first contact', () => {
  expect(shown(PLAIN, null)).toMatchObject({ shownMm: null, contact: 'off the work' });
  const touched = shown({ ...PLAIN, rises: 'away' }, 0.25);
  const off = shown({ ...PLAIN, rises: 'away' }, null, 0, touched.state);
  expect(off.shownMm).toBeCloseTo(0.25);
  expect(off.contact).toBe('off the work');
});

test('a stylus inclined to the surface shows more than the surface moved: at 60° twice as much (published cosine table for lever indicators: 60° 0.50)', () => {
  expect(shown({ ...PLAIN, rises: 'away', stylusFactor: 0.5 }, 0.2).shownMm).toBeCloseTo(0.4);
});

test('zeroing takes off what it shows, and a second zeroing adds to the first', () => {
  const build = { ...PLAIN, rises: 'away' } as const;
  const first = shown(build, 0.2);
  const zero = zeroed(first.state, first.shownMm!);
  expect(shown(build, 0.2, 0, zero).shownMm).toBeCloseTo(0);
  expect(shown(build, 0.25, 0, zero).shownMm).toBeCloseTo(0.05);
});

test('drift grows with time', () => {
  const build = { ...PLAIN, rises: 'away', driftMmPerMinute: 0.002 } as const;
  expect(shown(build, 0.1, 10 * 60_000).shownMm).toBeCloseTo(0.12);
});

test('up and down over the same places differ by the lag', () => {
  const build = { ...PLAIN, rises: 'away', lagMm: 0.01 } as const;
  let state = shown(build, 0).state;
  const readings = [0.05, 0.1, 0.05].map((surfaceMm) => {
    const reading = shown(build, surfaceMm, 0, state);
    state = reading.state;
    return reading.shownMm!;
  });
  expect(readings[2]! - readings[0]!).toBeCloseTo(0.01, 9);
});

test('a readout counts its own way from its own zero', () => {
  const build = { counts: -1, resolutionMm: 0.005, leftEndCountMm: 80 } as const;
  expect([0, 50, 127].map((xMm) => readoutMm(build, xMm))).toEqual([80, 30, -47]);
});
