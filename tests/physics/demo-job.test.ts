import { STAGES } from '@taptrue/protocol';
import { judgeSweep } from '@taptrue/server/measure/verdict/judge-sweep.ts';
import { BAR_LENGTH_MM, buildBench } from '@taptrue/simulators/bench-build.ts';
import { expect, test } from 'vitest';
import type { DrawnBench } from './drawn-bench.ts';
import { HandAtBench } from './hand-at-bench.ts';
import { LIMIT_MM, questionOf, tapAsAdvised } from './methods.ts';

/** What the first setup declares of a vise held by its left clamp. */
const DECLARED_PIVOT_MM = -8;
const GAVE_UP_AFTER_SWEEPS = 20;

function demoBench(seed: number): DrawnBench {
  const build = buildBench({ seed });
  return {
    seed,
    place: 'left clamp',
    truePivotMm: build.vise.pivotMm.nipped,
    declaredPivotMm: DECLARED_PIVOT_MM,
    zeroesLeftFirst: true,
    build,
  };
}

/** The whole demo job with the declared pivot only: tap until true at each stage; not true at tight goes back to snug. */
function job(seed: number): { sweeps: number; rounds: number; leftMm: number; done: boolean } {
  const bench = demoBench(seed);
  const hand = new HandAtBench(bench);
  let rounds = 0;
  let stage = STAGES.indexOf('nipped');
  while (hand.sweeps < GAVE_UP_AFTER_SWEEPS) {
    const points = hand.sweep(0, BAR_LENGTH_MM, 25);
    const question = questionOf(points, bench.build.indicator.resolutionMm);
    const judged = judgeSweep(question);
    if (!judged.ok) throw new Error(judged.noLine.what);
    const isTight = STAGES[stage] === 'tight';
    if (judged.result.verdict === 'true') {
      if (isTight) return { sweeps: hand.sweeps, rounds, leftMm: hand.endToEndMm, done: true };
      stage += 1;
      hand.clampTo(STAGES[stage]!);
      continue;
    }
    if (isTight) {
      stage -= 1;
      hand.clampTo(STAGES[stage]!);
      continue;
    }
    rounds += 1;
    tapAsAdvised(hand, question, DECLARED_PIVOT_MM);
  }
  return { sweeps: hand.sweeps, rounds, leftMm: hand.endToEndMm, done: false };
}

test('a demo vise is brought true at tight in at most four rounds of tapping, nineteen times in twenty', () => {
  const jobs = Array.from({ length: 300 }, (_, seed) => job(seed + 1));
  const counted = (of: (one: (typeof jobs)[number]) => number) => {
    const counts = new Map<number, number>();
    for (const one of jobs) counts.set(of(one), (counts.get(of(one)) ?? 0) + 1);
    return [...counts].sort(([a], [b]) => a - b).map(([value, times]) => `${value}: ${times}`);
  };
  console.info(`rounds of tapping  ${counted((one) => one.rounds).join(', ')}`);
  console.info(`sweeps             ${counted((one) => one.sweeps).join(', ')}`);
  const within = jobs.filter((one) => one.done && one.rounds <= 4).length;
  expect(within).toBeGreaterThanOrEqual(0.95 * jobs.length);
  const beyond = jobs.filter((one) => one.done && Math.abs(one.leftMm) > LIMIT_MM).length;
  expect(beyond).toBeLessThan(jobs.length / 100);
});
