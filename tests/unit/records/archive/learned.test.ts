import type { Stage } from '@taptrue/protocol';
import {
  FAIR_NUMBER_OF_JOBS,
  learnedFrom,
  type TurnOfJob,
} from '@taptrue/server/records/archive/learned.ts';
import { describe, expect, test } from 'vitest';

function turn(job: number, change: Partial<TurnOfJob> = {}): TurnOfJob {
  return {
    job,
    before: 1,
    after: 2,
    stageBefore: 'nipped',
    stageAfter: 'snug',
    turnedArcsec: 12,
    tapped: null,
    clampChanges: 1,
    zeroMoved: null,
    pivotFromLeftClampMm: null,
    pivotUncertaintyMm: null,
    ...change,
  };
}

const ask = (turns: TurnOfJob[], stage: Stage = 'snug', limitArcsec: number | null = 41) =>
  learnedFrom({ machine: 'mill 2', turns, stage, limitArcsec, unit: 'mm' });

/** So many jobs, tightened from snug to tight, turned by these. */
const tightened = (turned: readonly number[]) =>
  turned.map((turnedArcsec, job) =>
    turn(job, { stageBefore: 'snug', stageAfter: 'tight', turnedArcsec }),
  );

const NINE = [10, 12, 14, 8, 16, 12, 12, 10, 14];

describe('what tightening does', () => {
  // By hand: mean 12, squares about it 4+0+4+16+16+0+0+4+4 = 48, 48 / 8 = 6.
  test('mean, spread and number of jobs', () => {
    expect(ask(tightened(NINE)).shifts).toMatchObject([
      { from: 'snug', to: 'tight', mean: 12, spread: Math.sqrt(6), jobs: 9 },
    ]);
  });

  test('a job counts once, with its mean', () => {
    const turns = [turn(1, { turnedArcsec: 10 }), turn(1, { turnedArcsec: 20 }), turn(2)];
    expect(ask(turns).shifts).toMatchObject([{ mean: 13.5, jobs: 2 }]);
  });

  test.each([
    ['tapped between', { tapped: 'right' as const }],
    ['loosened and tightened again', { clampChanges: 3 }],
    ['loosened', { stageBefore: 'tight' as const, stageAfter: 'nipped' as const }],
    ['clamps left alone', { stageAfter: 'nipped' as const, clampChanges: 0 }],
  ])('nothing is learned of it where it was %s', (_case, change) => {
    expect(ask([turn(1, change)]).shifts).toEqual([]);
  });
});

describe('aiming off', () => {
  test('is offered against the usual shift, with its evidence', () => {
    const { aim } = ask(tightened(NINE));
    expect(aim).toMatchObject({ stage: 'snug', arcsec: -12, jobs: 9 });
    expect(aim!.words).toBe(
      'Tightening from snug to tight usually turns it 0° 0′ 12″ counter-clockwise ± 0° 0′ 2.4″ (9 jobs). Aim off by 0° 0′ 12″ clockwise?',
    );
  });

  test('goes over the stages that are still to come', () => {
    const turns = [
      ...tightened(NINE),
      ...NINE.map((_, job) => turn(job, { turnedArcsec: 5 + job })),
    ];
    const { aim } = ask(turns, 'nipped');
    expect(aim!.arcsec).toBeCloseTo(-(12 + 9), 9);
    expect(aim!.spreadArcsec).toBeCloseTo(Math.hypot(Math.sqrt(6), Math.sqrt(7.5)), 9);
  });

  test.each([
    [
      'fewer than a fair number of jobs',
      tightened(NINE.slice(0, FAIR_NUMBER_OF_JOBS - 1)),
      'snug',
      41,
      'from 7 on',
    ],
    [
      'no way that is usual',
      tightened([20, -20, 15, -15, 10, -10, 5, -5]),
      'snug',
      41,
      'no way is usual',
    ],
    ['less than a tenth of the limit', tightened(NINE), 'snug', 200, 'not worth'],
    ['a stage that is not known', tightened(NINE), 'nipped', 41, 'not known yet'],
    ['nothing left to tighten', tightened(NINE), 'tight', 41, 'nothing is left'],
  ] as const)('is not offered for %s', (_case, turns, stage, limit, why) => {
    const learned = ask([...turns], stage, limit);
    expect(learned.aim).toBeNull();
    expect(learned.whyNoAim).toContain(why);
  });
});

describe('where it turns', () => {
  test('for each stage and end, from the left clamp, a job counting once', () => {
    const found = (job: number, mm: number, tapped: 'left' | 'right') =>
      turn(job, { stageAfter: 'nipped', clampChanges: 0, tapped, pivotFromLeftClampMm: mm });
    const { pivots } = ask([
      found(1, 2, 'right'),
      found(1, 4, 'right'),
      found(2, 7, 'right'),
      found(2, 140, 'left'),
    ]);
    expect(pivots).toMatchObject([
      { stage: 'nipped', end: 'left', mean: 140, spread: null, jobs: 1 },
      { stage: 'nipped', end: 'right', mean: 5, spread: Math.sqrt(8), jobs: 2 },
    ]);
    expect(pivots[1]!.words).toBe(
      'At nipped, tapped at the right end, it turns 5 mm ± 3 mm to the right of the left clamp (2 jobs).',
    );
  });
});
