import type { RecordEntryOf, Setup, Stage, SweepResult, SweepSummary } from '@taptrue/protocol';
import type { PivotEstimate } from '../measure/verdict/pivot.ts';
import { surfacePerReading } from '../measure/verdict/surface.ts';
import type { SinceSweep } from './since-sweep.ts';
import { stylusFactorOf } from './sweep-input-of.ts';
import type { SweepRun } from './sweep-run.ts';

/** An ended sweep as it is recorded; `result` null where it gave no line or was abandoned. */
export function endedEntry(
  run: SweepRun,
  result: SweepResult | null,
  setup: Setup,
  atMs: number,
): RecordEntryOf<'sweep ended'> {
  const { id, stage, simulated, begunAtMs, taker } = run;
  return {
    entry: 'sweep ended',
    atMs,
    sweep: id,
    stage,
    simulated,
    begunAtMs,
    samples: taker.samples,
    points: run.drawn(),
    surfacePerReading: surfacePerReading(setup.rises, stylusFactorOf(setup)),
    result,
  };
}

interface OfSweep {
  id: number;
  stage: Stage;
  result: SweepResult;
}

/** What two sweeps, one after the other, say of the vise, and what was done between them. */
export function betweenEntry(
  { before, after }: { before: OfSweep; after: OfSweep },
  { tappedEnd, clampChanges, zeroMoved }: SinceSweep,
  crossing: PivotEstimate | null,
  setup: Setup,
  atMs: number,
): RecordEntryOf<'between sweeps'> {
  return {
    entry: 'between sweeps',
    atMs,
    before: before.id,
    after: after.id,
    stageBefore: before.stage,
    stageAfter: after.stage,
    turnedArcsec: after.result.outOfTrueArcsec - before.result.outOfTrueArcsec,
    tapped: tappedEnd,
    clampChanges,
    zeroMoved,
    pivot: crossing && { ...crossing, fromLeftClampMm: crossing.xMm - setup.vise.leftClampMm },
  };
}

/** An ended sweep as the job's list has it, after the one `before` it. */
export function summaryOf(
  run: SweepRun,
  result: SweepResult,
  before: SweepRun | null,
  { isTapped, voidWords, zeroMoved }: SinceSweep,
): SweepSummary {
  const { id, stage, simulated } = run;
  const onlyTightened = before !== null && before.stage !== stage && !isTapped && voidWords === '';
  const turned =
    onlyTightened && before.result ? result.outOfTrueArcsec - before.result.outOfTrueArcsec : null;
  return {
    id,
    stage,
    result,
    simulated,
    shiftArcsec: turned,
    zeroMoved: before ? zeroMoved : null,
    ...(run.under && { under: run.under }),
  };
}
