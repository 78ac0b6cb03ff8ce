import type { Answer, Caution, SetupChange, SweepResult, SweepSummary } from '@taptrue/protocol';
import { isLineOfTheBar } from '../measure/verdict/judge-sweep.ts';
import { DONE, done, refused } from '../state/answers.ts';
import type { DeskContext } from './desk.ts';
import { DoublePress } from './double-press.ts';
import { FeedTaker } from './feed-samples.ts';
import { LagWatch } from './lag-watch.ts';
import { linksNeeded, mayNotBegin } from './may-begin.ts';
import { changedSince } from './measured-under.ts';
import type { Measuring, TypedIn } from './measuring.ts';
import type { NudgeDesk } from './nudge-desk.ts';
import { endOf, type PivotInUse } from './pivot-in-use.ts';
import { PivotLedger } from './pivot-ledger.ts';
import { ReadoutTaker } from './readout-samples.ts';
import {
  feedMarkRefused,
  noSweep,
  noTurnAsked,
  nothingToTakeBack,
  nothingTyped,
  sweepBeingTaken,
} from './refusals.ts';
import { type LastSweep, SinceSweep } from './since-sweep.ts';
import type { JobFacts } from './standing.ts';
import { StationTaker } from './station-samples.ts';
import { betweenEntry, endedEntry, summaryOf } from './sweep-entries.ts';
import { SweepRun } from './sweep-run.ts';

/** Sweeps of one job kept for the screen; the record keeps all. */
const MOST_SWEEPS = 50;
/** The drawing and its figures need no more than ten a second; the needle has its own section. */
const JUDGE_EVERY_MS = 100;

/** The sweeps of a job: the one being taken, those ended, and what two of them say of the pivot. */
export class SweepDesk {
  readonly pivots = new PivotLedger();
  readonly #context: DeskContext;
  readonly #measuring: Measuring;
  readonly #nudges: NudgeDesk;
  #count = 0;
  #run: SweepRun | null = null;
  #runChanged = false;
  #judgedAtMs = Number.NEGATIVE_INFINITY;
  /** When the station before was taken, or the sweep begun. */
  #takenAtMs = Number.NEGATIVE_INFINITY;
  #history: SweepSummary[] = [];
  #lastEnded: SweepRun | null = null;
  #since = new SinceSweep();
  readonly #lags = new LagWatch();
  readonly #presses = new DoublePress();

  constructor(context: DeskContext, measuring: Measuring, nudges: NudgeDesk) {
    this.#context = context;
    this.#measuring = measuring;
    this.#nudges = nudges;
  }

  get isSweeping(): boolean {
    return this.#run?.isBeingTaken ?? false;
  }

  /** Number of the sweep being taken; null: none is. */
  get idBeingTaken(): number | null {
    return this.#run?.isBeingTaken ? this.#run.id : null;
  }

  /** Something happened that makes the sweep being taken doubtful: it says so from now on. */
  notice(caution: Caution): void {
    if (!this.#run?.isBeingTaken) return;
    this.#run.notice(caution);
    this.#runChanged = true;
  }

  /** The sweep being taken, with the station to stand at now where it has stations; null: none is. */
  get sweeping(): JobFacts['sweeping'] {
    return this.#run?.isBeingTaken ? this.#run.takenNow() : null;
  }

  /** The last sweep that gave a line. */
  get last(): LastSweep | null {
    const run = this.#lastEnded;
    if (!run?.result) return null;
    const { isTapped, clampsChanged, voidWords } = this.#since;
    return {
      run,
      result: run.result,
      tappedSince: isTapped,
      clampsChangedSince: clampsChanged,
      voidSince: voidWords,
    };
  }

  get pivot(): PivotInUse {
    return this.pivots.inUse(this.#context.setup, this.#context.stage);
  }

  begin(nowMs: number): Answer {
    if (this.isSweeping) return refused(sweepBeingTaken());
    const { setup, stage } = this.#context;
    const fault = mayNotBegin(setup, (link) => this.#context.report(link));
    if (fault) return refused(fault);
    this.#count += 1;
    this.#run = new SweepRun(
      this.#count,
      stage,
      nowMs,
      setup,
      linksNeeded(setup).some((link) => this.#context.report(link).simulated),
      this.#nudges.missing(setup),
    );
    this.#measuring.forgetTyping();
    this.#presses.begin();
    this.#takenAtMs = nowMs;
    this.#since.sweepBegins();
    this.#judge(nowMs);
    this.#context.standingChanged();
    return done(`Sweep ${this.#count} begins, at ${stage}.`);
  }

  /** A reading of a stream; one sent by the device's own key takes the station. */
  indicator(readingMm: number, atMs: number, byKey: boolean): void {
    const run = this.#run;
    if (!run?.isBeingTaken) return;
    run.taker.indicator(readingMm, atMs);
    this.#runChanged = true;
    if (byKey && run.taker instanceof StationTaker && this.#context.setup.entry === 'device') {
      if (this.#presses.press(this.#measuring, readingMm, atMs) === null)
        this.#takeAt(run, run.taker, readingMm, atMs);
    }
    this.#endIfComplete(atMs);
  }

  readout(xMm: number, atMs: number): void {
    if (!this.#run?.isBeingTaken) return;
    this.#run.taker.readout(xMm, atMs);
    this.#runChanged = true;
    this.#endIfComplete(atMs);
  }

  tick(nowMs: number): void {
    const run = this.#run;
    if (!run?.isBeingTaken) return;
    run.taker.tick(nowMs);
    this.#endIfComplete(nowMs);
    if (run.isBeingTaken && this.#runChanged && nowMs - this.#judgedAtMs >= JUDGE_EVERY_MS) {
      this.#judge(nowMs);
    }
  }

  takeStation(typed: TypedIn, nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken || !(run.taker instanceof StationTaker)) return refused(noSweep());
    if (this.#context.setup.entry === 'keyed' && typed.keyed === undefined)
      return refused(nothingTyped());
    const measured = this.#measuring.indicator(typed, nowMs, this.#takenAtMs);
    if (!measured.ok) return refused(measured.fault);
    if (typed.keyed === undefined) {
      const fault = this.#presses.press(this.#measuring, measured.mm, nowMs);
      if (fault) return refused(fault);
    }
    this.#takeAt(run, run.taker, measured.mm, nowMs);
    return DONE;
  }

  takeBack(nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken || !(run.taker instanceof StationTaker)) return refused(noSweep());
    if (!run.taker.takeBack()) return refused(nothingToTakeBack());
    this.#measuring.compareWithNone();
    this.#presses.forget();
    this.#judge(nowMs);
    this.#context.standingChanged();
    return done('The last station is struck out; it stays on the record.');
  }

  feed(mark: 'start' | 'stop', nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken || !(run.taker instanceof FeedTaker)) return refused(noSweep());
    const isSet = mark === 'start' ? run.taker.start(nowMs) : run.taker.stop(nowMs);
    if (!isSet) return refused(feedMarkRefused(mark));
    if (run.taker.isComplete) this.#end(nowMs);
    else this.#judge(nowMs);
    this.#context.standingChanged();
    return DONE;
  }

  endByHand(nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken) return refused(noSweep());
    if (run.taker instanceof FeedTaker && run.taker.isRunning) run.taker.stop(nowMs);
    run.taker.tick(nowMs);
    this.#end(nowMs);
    return run.result ? DONE : done(`The sweep ended without a line. ${run.noResultYet}`);
  }

  abandon(nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken) return refused(noSweep());
    run.end(this.#context.setup);
    this.#recordEnd(run, null, nowMs);
    this.#run = this.#lastEnded;
    this.rejudge(nowMs);
    this.tellRun();
    this.#context.standingChanged();
    return done('The sweep is abandoned; what was taken stays on the record.');
  }

  /** The mallet moved the vise: the last line no longer holds. */
  tapped(): void {
    this.#lags.begin();
    this.#since.tappedEnd = endOf(this.pivot.malletMm, this.#context.setup);
    this.tellRun();
  }

  /** Loosening and tightening turn a vise: back at the same stage it need not lie as it was swept. */
  clampsChanged(): void {
    this.#lags.begin();
    this.#since.clampChanges += 1;
    this.tellPivot();
    this.tellRun();
  }

  zeroMoved(why: string): void {
    if (this.#count === 0) return;
    this.#lags.begin();
    this.#measuring.compareWithNone();
    this.#since.noteZeroMoved(why, this.isSweeping);
    this.tellRun();
  }

  /** What of a change the last sweep was not measured under; empty: nothing, or there is no sweep. */
  voidedBy(change: SetupChange): string[] {
    const under = this.#lastEnded?.under;
    return under ? changedSince(under, change) : [];
  }

  /** The needle was lifted and came back: what it stood still over may be so. */
  needleSeen(nowMs: number): void {
    if (!this.#lastEnded || this.isSweeping) return;
    this.rejudge(nowMs);
    this.#context.standingChanged();
  }

  /** The last sweep is void by these parts of the set-up, whatever is set later. */
  setUpChanged(parts: readonly string[]): void {
    for (const part of parts) this.#since.setUpChanged.add(part);
  }

  /** A replay tries what was measured under another setup. */
  tryUnder(change: SetupChange): void {
    this.#lastEnded?.tryUnder(change);
  }

  /** What the last sweep says by a changed pivot or in another unit. */
  rejudge(nowMs: number): void {
    this.tellPivot();
    if (!this.#run) return;
    this.#judge(nowMs);
    const { id, result } = this.#run;
    const row = this.#history.findIndex((summary) => summary.id === id);
    if (!result || row === -1) return;
    this.#history[row] = { ...this.#history[row]!, result };
    this.#tellHistory();
  }

  /** The user says whether the turn between the last two sweeps was tapped, or whether the dial kept its zero. */
  answerTurn(yes: boolean, nowMs: number): Answer {
    if (this.pivots.asked === null) return refused(noTurnAsked());
    this.pivots.answer(yes, this.#context.setup);
    this.rejudge(nowMs);
    return DONE;
  }

  forgetPivot(nowMs: number): Answer {
    this.pivots.forget();
    this.rejudge(nowMs);
    return DONE;
  }

  tellJobBegun(): void {
    this.tellRun();
    this.#tellHistory();
    this.#context.store.set('timing', this.#lags.section);
  }

  tellPivot(): void {
    const { store, setup, stage } = this.#context;
    store.set('pivot', this.pivots.section(setup, stage));
  }

  #takeAt(run: SweepRun, taker: StationTaker, readingMm: number, atMs: number): void {
    const station = taker.take(readingMm);
    if (!station) return;
    this.#takenAtMs = atMs;
    this.#context.record({ entry: 'station', atMs, sweep: run.id, readingMm, ...station });
    if (taker.isComplete) this.#end(atMs);
    else this.#judge(atMs);
    this.#context.standingChanged();
  }

  #endIfComplete(atMs: number): void {
    if (this.#run?.isBeingTaken && this.#run.taker.isComplete) this.#end(atMs);
  }

  #judge(nowMs: number): void {
    const run = this.#run;
    if (!run) return;
    this.#judgedAtMs = nowMs;
    this.#runChanged = false;
    const { setup, digitMm } = this.#context;
    const pivot = this.pivots.inUse(setup, run.stage);
    run.judge(setup, pivot, digitMm, this.#measuring.needle.seen);
    this.tellRun();
  }

  #end(nowMs: number): void {
    const run = this.#run;
    if (!run) return;
    // Judged once more while it is being taken: the digits it was read with are those of now.
    this.#judge(nowMs);
    run.end(this.#context.setup);
    if (run.result === null) {
      this.#recordEnd(run, null, nowMs);
      this.#run = this.#lastEnded ?? run;
      this.rejudge(nowMs);
      this.#context.standingChanged();
      return;
    }
    this.#learnFrom(run);
    // The pivot may just have been learned from this very sweep: its advice uses it.
    this.#judge(nowMs);
    this.#recordEnd(run, run.result, nowMs);
    this.#recordBetween(run, run.result, nowMs);
    this.#history.push(summaryOf(run, run.result, this.#lastEnded, this.#since));
    if (this.#history.length > MOST_SWEEPS) this.#history.shift();
    this.#lastEnded = run;
    this.#since.sweepEnded();
    this.#measureLag(run);
    this.#tellHistory();
    this.tellPivot();
    this.tellRun();
    this.#context.standingChanged();
  }

  #measureLag({ taker, pairedWithLagMs }: SweepRun): void {
    if (!(taker instanceof ReadoutTaker)) return;
    this.#context.store.set('timing', this.#lags.sweepEnded(taker.timed, pairedWithLagMs));
  }

  #learnFrom(run: SweepRun): void {
    const before = this.#lastEnded;
    if (!before?.result || !run.result || this.#since.voidWords !== '') return;
    if (![before, run].every(({ result }) => isLineOfTheBar(result?.cautions ?? []))) return;
    this.#since.noteShift(before.result, run.result, this.#context.setup);
    this.pivots.note(
      {
        before: { id: before.id, stage: before.stage, result: before.result },
        after: { id: run.id, stage: run.stage, result: run.result },
        end: this.#since.tappedEnd,
        clampsChanged: this.#since.clampsChanged,
        zeroMoved: this.#since.zeroMoved,
      },
      this.#context.setup,
    );
  }

  #recordEnd(run: SweepRun, result: SweepResult | null, atMs: number): void {
    this.#context.record(endedEntry(run, result, run.setupOf(this.#context.setup), atMs));
  }

  #recordBetween(run: SweepRun, result: SweepResult, atMs: number): void {
    const before = this.#lastEnded;
    if (!before?.result || this.#since.voidWords !== '') return;
    const { id, stage } = run;
    const pair = {
      before: { id: before.id, stage: before.stage, result: before.result },
      after: { id, stage, result },
    };
    const crossing = this.pivots.crossingOf(before.id, run.id);
    this.#context.record(betweenEntry(pair, this.#since, crossing, this.#context.setup, atMs));
  }

  /** Tells the sweep being taken, or the last one with what happened since. */
  tellRun(): void {
    this.#context.store.set('sweep', this.#run?.section(this.#sinceLast()) ?? null);
  }

  /** What happened since the ended sweep that is shown. */
  #sinceLast(): { outdated: string; zeroMoved: string } {
    const run = this.#run;
    if (!run || run !== this.#lastEnded) return { outdated: '', zeroMoved: '' };
    return this.#since.words(run.stage, this.#context.stage);
  }

  #tellHistory(): void {
    this.#context.store.set('history', { sweeps: [...this.#history] });
  }
}
