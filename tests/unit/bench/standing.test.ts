import { firstSetup, STAGES, type Stage, type Verdict } from '@taptrue/protocol';
import { type JobFacts, jobStanding, safetyCautions } from '@taptrue/server/bench/standing.ts';
import { describe, expect, test } from 'vitest';
import { resultOf, stations, sweepOf } from '../measure/verdict/sweep-of.ts';

const RESULT = resultOf(sweepOf(stations(5, (xMm) => 0.001 * xMm)));
const VERDICTS: (Verdict | null)[] = ['true', 'not true', 'too close to call', null];

function facts(changes: Partial<JobFacts>): JobFacts {
  return {
    stage: 'tight',
    setup: firstSetup(),
    sensesKnown: true,
    sweeping: null,
    parked: false,
    last: null,
    ...changes,
  };
}

const sweepingWhere = (isTaken: boolean) =>
  isTaken ? { nextStation: { index: 2, xMm: 63.5 }, feedRunning: false } : null;

const lastAt = (
  stage: Stage,
  verdict: Verdict | null,
  tappedSince = false,
  clampsChangedSince = false,
) => ({
  stage,
  result: { ...RESULT, verdict },
  tappedSince,
  clampsChangedSince,
  voidSince: '',
});

/** Everything that a job can be at, in every combination. */
const EVERYTHING = STAGES.flatMap((stage) =>
  STAGES.flatMap((sweptAt) =>
    VERDICTS.flatMap((verdict) =>
      [true, false].flatMap((tappedSince) =>
        [true, false].flatMap((clampsChanged) =>
          [true, false].map((sweepBeingTaken) => ({
            stage,
            sweptAt,
            verdict,
            tappedSince,
            clampsChanged,
            sweepBeingTaken,
          })),
        ),
      ),
    ),
  ),
);

function asked(one: (typeof EVERYTHING)[number]): JobFacts {
  return facts({
    stage: one.stage,
    sweeping: sweepingWhere(one.sweepBeingTaken),
    last: lastAt(one.sweptAt, one.verdict, one.tappedSince, one.clampsChanged),
  });
}

describe('of everything that a job can be at', () => {
  test('only tight, swept at tight, found true, neither tapped nor clamped otherwise since, and not being swept again is true', () => {
    const found = EVERYTHING.filter((one) => jobStanding(asked(one)).standing === 'true');
    expect(found).toEqual([
      {
        stage: 'tight',
        sweptAt: 'tight',
        verdict: 'true',
        tappedSince: false,
        clampsChanged: false,
        sweepBeingTaken: false,
      },
    ]);
  });

  test('until it is tight the vise is said to be loose, whatever the sweep said, and there is a caution', () => {
    for (const one of EVERYTHING) {
      if (one.stage === 'tight') continue;
      const job = jobStanding(asked(one));
      expect(job.standing).toBe('loose');
      expect(job.sentence).toContain('loose: do not cut');
      const codes = safetyCautions(asked(one), job.standing).map((caution) => caution.code);
      expect(codes).toContain('loose-do-not-cut');
    }
  });

  test('there is always a sentence, what to do next, and that local rules come first', () => {
    for (const one of EVERYTHING) {
      const job = jobStanding(asked(one));
      expect([job.sentence, job.next]).not.toContain('');
      const codes = safetyCautions(asked(one), job.standing).map((caution) => caution.code);
      expect(codes).toContain('local-rules-first');
    }
  });
});

test.each([
  ['before the first sweep', {}, 'spindle-stopped'],
  ['at the mallet', { parked: true, last: lastAt('tight', 'not true') }, 'hands-clear'],
  ['at true', { last: lastAt('tight', 'true') }, 'clear-before-cut'],
] as const)('%s the caution is %3$s', (_when, changes, code) => {
  const asked = facts(changes);
  const codes = safetyCautions(asked, jobStanding(asked).standing).map((caution) => caution.code);
  expect(codes).toContain(code);
});

test('with the senses unknown the nudge comes first', () => {
  expect(jobStanding(facts({ sensesKnown: false })).next).toContain('Nudge first');
  expect(jobStanding(facts({})).next).toBe('Sweep the bar.');
});
