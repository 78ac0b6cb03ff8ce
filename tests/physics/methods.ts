import { MM_PER_INCH, type SweepResult } from '@taptrue/protocol';
import { judgeSweep } from '@taptrue/server/measure/verdict/judge-sweep.ts';
import { blendPivots, pivotFromTwoLines } from '@taptrue/server/measure/verdict/pivot.ts';
import type { SweepInput, SweepPoint } from '@taptrue/server/measure/verdict/sweep-input.ts';
import { BAR_LENGTH_MM } from '@taptrue/simulators/bench-build.ts';
import type { DrawnBench } from './drawn-bench.ts';
import { HandAtBench, MALLET_MM } from './hand-at-bench.ts';

/** 0.001 in total from end to end of a 5 in bar: the usual limit (common practice, no source). */
export const LIMIT_MM = MM_PER_INCH / 1000;
/** Whoever has not got there by then has given up. */
export const GAVE_UP_AFTER = 15;
const STATIONS = 25;
export const DECLARED_UNCERTAINTY_MM = 8;

export interface Outcome {
  sweeps: number;
  blows: number;
  /** What is left when the hand stopped, end to end. */
  leftMm: number;
}

function outcome(hand: HandAtBench): Outcome {
  return { sweeps: hand.sweeps, blows: hand.blows, leftMm: Math.abs(hand.endToEndMm) };
}

/** What is known beforehand on these benches, and the limit; the rest is what was read. */
export function questionOf(points: readonly SweepPoint[], resolutionMm: number): SweepInput {
  return {
    passes: [{ pass: 'out', points }],
    axis: 'x',
    displayUnit: 'in',
    rises: 'toward',
    stylusFactor: 1,
    targetSlope: 0,
    pivot: null,
    malletMm: null,
    parked: null,
    limit: { kind: 'end to end', mm: LIMIT_MM, overMm: null },
    decisionRule: 'guarded',
    resolutionMm,
    permissibleErrorMm: null,
    repeatabilityMm: null,
    rangeMm: null,
    pointsAre: 'single readings',
  };
}

/** Parks at the end that lies farther from where the vise is held to turn, and taps there to the reading given. */
export function tapAsAdvised(hand: HandAtBench, question: SweepInput, pivotMm: number): void {
  const farRight = BAR_LENGTH_MM / 2 > pivotMm;
  const malletMm = farRight ? MALLET_MM.right : MALLET_MM.left;
  const stylusMm = farRight ? BAR_LENGTH_MM : 0;
  const parked = { xMm: stylusMm, readingMm: hand.readMm(stylusMm) };
  const pivot = { xMm: pivotMm, acrossMm: null };
  const advised = judgeSweep({ ...question, pivot, malletMm, parked });
  if (!advised.ok || advised.result.tapToReadingMm === null) {
    throw new Error('the advice gave no reading to tap to');
  }
  hand.tapTo(advised.result.tapToReadingMm, stylusMm, malletMm, pivotMm);
}

/** Following the advice: sweep, tap to the reading given, sweep again, with the pivot learned on the way. */
export function followAdvice(bench: DrawnBench): Outcome {
  const hand = new HandAtBench(bench);
  const declared = { xMm: bench.declaredPivotMm, uncertaintyMm: DECLARED_UNCERTAINTY_MM };
  const { resolutionMm } = bench.build.indicator;
  let pivot = declared;
  let before: SweepResult | null = null;
  while (hand.sweeps < GAVE_UP_AFTER) {
    const points = hand.sweep(0, BAR_LENGTH_MM, STATIONS);
    const question = questionOf(points, resolutionMm);
    const judged = judgeSweep(question);
    if (!judged.ok) throw new Error(judged.noLine.what);
    if (judged.result.verdict === 'true') break;
    const after = judged.result;
    if (before !== null) {
      const bounds = {
        viseLeftMm: -20,
        viseRightMm: 147,
        displayUnit: 'in',
      } as const;
      const learned = pivotFromTwoLines(before, after, bounds);
      if (learned.ok) pivot = blendPivots(declared, learned);
    }
    before = after;
    tapAsAdvised(hand, question, pivot.xMm);
  }
  return outcome(hand);
}

/**
 * By feel: zero one end, go to the other, tap `share` of what shows out (1: until it reads zero), go back
 * and look again. Someone who sees it get worse swaps the ends.
 */
export function chaseZero(bench: DrawnBench, share: number): Outcome {
  const hand = new HandAtBench(bench);
  let zeroesLeft = bench.zeroesLeftFirst;
  let lastMm = Number.POSITIVE_INFINITY;
  while (hand.sweeps < GAVE_UP_AFTER) {
    const fromMm = zeroesLeft ? 0 : BAR_LENGTH_MM;
    const toMm = zeroesLeft ? BAR_LENGTH_MM : 0;
    const points = hand.sweep(fromMm, toMm, 2);
    const zeroMm = points[0]!.readingMm;
    const differenceMm = points[1]!.readingMm - zeroMm;
    if (Math.abs(differenceMm) <= LIMIT_MM) break;
    if (Math.abs(differenceMm) > lastMm) {
      zeroesLeft = !zeroesLeft;
      lastMm = Number.POSITIVE_INFINITY;
      // Tapped at the end that was zeroed: that end is where the stylus must stand now.
      const otherMm = hand.readMm(fromMm);
      hand.tapTo(
        otherMm + share * differenceMm,
        fromMm,
        zeroesLeft ? MALLET_MM.right : MALLET_MM.left,
        BAR_LENGTH_MM / 2,
      );
      continue;
    }
    lastMm = Math.abs(differenceMm);
    const malletMm = zeroesLeft ? MALLET_MM.right : MALLET_MM.left;
    hand.tapTo(zeroMm + (1 - share) * differenceMm, toMm, malletMm, BAR_LENGTH_MM / 2);
  }
  return outcome(hand);
}
