import type { Stage, TurnRow } from '@taptrue/protocol';
import { slopeUncertainty } from '@taptrue/server/measure/verdict/uncertainty.ts';
import { compareSweeps, type SweepToCompare } from '@taptrue/server/records/archive/compare.ts';
import {
  ENOUGH_REPEATS,
  repeatsOf,
  runsOfRepeats,
} from '@taptrue/server/records/archive/repeats.ts';
import { describe, expect, test } from 'vitest';
import { endedSweep } from '../store/kept-jobs.ts';

function sweep(number: number, arcsec: number, stage: Stage = 'tight', job = 'a'): SweepToCompare {
  const endedAt = new Date(Date.UTC(2026, job === 'a' ? 1 : 0, 1, 8, number)).toISOString();
  return { job, jobNumber: 1, endedAt, ended: endedSweep({ number, arcsec, stage }) };
}

const between = (after: number, change: Partial<TurnRow> = {}): TurnRow => ({
  before: after - 1,
  after,
  stageBefore: 'tight',
  stageAfter: 'tight',
  turnedArcsec: 0,
  tapped: null,
  clampChanges: 0,
  zeroMoved: null,
  pivotFromLeftClampMm: null,
  pivotUncertaintyMm: null,
  ...change,
});

const compare = (sweeps: SweepToCompare[], turns: TurnRow[] = []) =>
  compareSweeps(sweeps, new Map([['a', turns]]), 'mm');

describe('sweeps over each other', () => {
  test('oldest first, heights of the surface, each point off its own line', () => {
    const { sweeps } = compare([sweep(2, 10), sweep(1, 100), sweep(1, 50, 'tight', 'b')]);
    expect(sweeps.map(({ job, number }) => `${job}${number}`)).toEqual(['b1', 'a1', 'a2']);
    for (const { points, slope, interceptMm, midHeightMm, fromMm, toMm } of sweeps) {
      for (const { xMm, heightMm, offMm } of points)
        expect(heightMm - (interceptMm + slope * xMm)).toBeCloseTo(offMm, 12);
      expect(midHeightMm).toBeCloseTo(interceptMm + (slope * (fromMm + toMm)) / 2, 12);
      // Rising toward the operator, counter-clockwise out of true: the right end lies farther away.
      expect(points.at(-1)!.heightMm).toBeGreaterThan(points[0]!.heightMm);
    }
  });

  test('in the order they were taken, also where the clock of the wall was set back between two of them', () => {
    const later = { ...sweep(2, 10), endedAt: '2026-01-31T08:00:00.000Z' };
    const { sweeps, differences } = compare(
      [later, sweep(1, 100)],
      [between(2, { tapped: 'left' })],
    );
    expect(sweeps.map(({ number }) => number)).toEqual([1, 2]);
    expect(differences[0]!.turnedArcsec).toBeCloseTo(-90, 6);
    expect(differences[0]!.words).toContain('tapped at the left end');
  });

  test.each([
    [{ tapped: 'right' as const }, 'tapped at the right end'],
    [{ clampChanges: 1, stageBefore: 'snug' as const }, 'clamps'],
    [{ zeroMoved: 'zeroed' }, 'the zero moved'],
    [{}, 'No tap was noticed between.'],
  ])('what lay between is said: %j', (change, words) => {
    const { differences } = compare([sweep(1, 100), sweep(2, 10)], [between(2, change)]);
    expect(differences[0]!.turnedArcsec).toBeCloseTo(-90, 6);
    expect(differences[0]!.words).toContain('clockwise');
    expect(differences[0]!.words).toContain(words);
  });

  test('a turn no larger than both are known to is said to be no more', () => {
    const { differences } = compare([sweep(1, 10), sweep(2, 10.1)], [between(2)]);
    expect(differences[0]!.words).toContain('no more than both are known to');
  });
});

describe('how the slope repeats', () => {
  const repeated = (arcsecs: readonly number[]) =>
    arcsecs.map((arcsec, index) => ({
      number: index + 1,
      stage: 'tight' as const,
      slope: Math.tan((arcsec * Math.PI) / 648_000),
      lengthMm: 127,
      surfacePerReading: -1,
    }));

  // By hand: 9, 10, 11 seconds spread by 1; 1 second over 127 mm is 0.0006157 mm, over the root of two 0.0004354.
  test('as an angle, and as one reading of the dial', () => {
    const repeats = repeatsOf('a', repeated([9, 10, 11]), 'mm')!;
    expect(repeats.spreadArcsec).toBeCloseTo(1, 6);
    expect(repeats.meanArcsec).toBeCloseTo(10, 6);
    expect(repeats.readingMm).toBeCloseTo(0.0004354, 7);
    expect(repeats.knownWithinShare).toBeCloseTo(0.52, 2);
    expect(repeats.enough).toBe(false);
  });

  test('taken over, it comes out of the uncertainty as the standard deviation it was', () => {
    const repeats = repeatsOf('a', repeated([8, 9, 10, 11, 12]), 'mm')!;
    const { parts } = slopeUncertainty([], 127, null, {
      resolutionMm: null,
      permissibleErrorMm: null,
      repeatabilityMm: repeats.readingMm,
    });
    const own = parts.find(({ name }) => name === 'repeatability')!;
    const arcsec = (own.slope * 648_000) / Math.PI;
    expect(arcsec).toBeCloseTo(repeats.spreadArcsec, 6);
    expect(repeats.enough).toBe(true);
    expect(repeats.sweeps).toHaveLength(ENOUGH_REPEATS);
  });

  test('a dial that shows half of the surface repeats to twice as little on it', () => {
    const halved = repeated([9, 10, 11]).map((one) => ({ ...one, surfacePerReading: 0.5 }));
    expect(repeatsOf('a', halved, 'mm')!.readingMm).toBeCloseTo(2 * 0.0004354, 7);
  });

  test('is told by sweeps one after the other with nothing touched, and by no others', () => {
    const sweeps = [1, 2, 3, 4, 5].map((number) => ({ number, stage: 'tight' as const }));
    const turns = [
      between(2),
      between(3, { tapped: 'left' }),
      between(4),
      between(5, { clampChanges: 2 }),
    ];
    expect(runsOfRepeats(sweeps, turns).map((run) => run.map(({ number }) => number))).toEqual([
      [1, 2],
      [3, 4],
    ]);
  });

  test('of sweeps that were compared: told, or why not', () => {
    const three = [sweep(1, 9), sweep(2, 10), sweep(3, 11)];
    expect(compare(three, [between(2), between(3)]).repeats!.spreadArcsec).toBeCloseTo(1, 3);
    expect(compare(three, [between(2), between(3, { tapped: 'left' })])).toMatchObject({
      repeats: null,
      whyNoRepeats: expect.stringContaining('Something was tapped'),
    });
    expect(compare([sweep(1, 9), sweep(1, 9, 'tight', 'b')]).whyNoRepeats).toContain(
      'several jobs',
    );
  });
});
