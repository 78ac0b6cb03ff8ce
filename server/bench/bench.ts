import {
  type Answer,
  type Command,
  type Fault,
  firstSetup,
  isUsable,
  type LinkName,
  type LinkReport,
  type NudgesSection,
  type Reading,
  type RecordEntry,
  type Setup,
  type SetupChange,
  type Stage,
  type SweepSummary,
} from '@taptrue/protocol';
import type { SectionStore } from '../stream/section-store.ts';
import { FeedTaker } from './feed-taker.ts';
import { readKeyed } from './keyed-reading.ts';
import { LatestReadings, staleAfterMs } from './latest-readings.ts';
import { NudgeDesk, type NudgeName } from './nudge-desk.ts';
import { endOf, PivotLedger, type TappedEnd } from './pivot-ledger.ts';
import { deviceMissing, noSweep, notHere, sweepBeingTaken } from './refusals.ts';
import { type JobFacts, jobStanding, safetyCautions } from './standing.ts';
import { StandingFaults } from './standing-faults.ts';
import { StationTaker } from './station-taker.ts';
import { SweepRun } from './sweep-run.ts';
import { TapSession } from './tap-session.ts';
import { ZeroWatch } from './zero-watch.ts';

/** Sweeps of one job kept for the screen; the record keeps all. */
const MOST_SWEEPS = 50;
/** The drawing and its figures need no more than ten a second; the needle has its own section. */
const JUDGE_EVERY_MS = 100;
/** The age of a stale needle is told once a second. */
const TELL_STALE_EVERY_MS = 1000;
/** A reading older than any device's interval. */
const STALE_TOLD_FROM_MS = 1000;

/** What this part of the setup means while a sweep is being taken may not change under it. */
const FIXED_WHILE_SWEEPING: readonly (keyof Setup)[] = [
  'way',
  'axis',
  'stationsMm',
  'backPass',
  'feed',
  'counts',
  'leftEndCountMm',
  'entry',
  'keyedAs',
];

export interface BenchOptions {
  name: string;
  serviceVersion: string;
  remembered: { setup: Setup; nudges: NudgesSection } | null;
  record(entry: RecordEntry): void;
}

const DONE: Answer = { ok: true, note: '' };
const refused = (fault: Fault): Answer => ({ ok: false, fault });
const done = (note: string): Answer => ({ ok: true, note });

/**
 * One bench: what was told to it, what it measures, what it advises. No I/O and no clock: time comes with
 * every call, so that the same calls give the same state.
 */
export class Bench {
  readonly #options: BenchOptions;
  readonly #store: SectionStore;
  readonly #latest = new LatestReadings();
  readonly #faults = new StandingFaults();
  readonly #pivots = new PivotLedger();
  readonly #zeroWatch = new ZeroWatch();
  readonly #nudges: NudgeDesk;
  #setup: Setup;
  #stage: Stage = 'nipped';
  #jobNumber = 1;
  #recordFile: string | null = null;
  #sweepCount = 0;
  #run: SweepRun | null = null;
  #runChanged = false;
  #judgedAtMs = Number.NEGATIVE_INFINITY;
  #staleToldAtMs = Number.NEGATIVE_INFINITY;
  #history: SweepSummary[] = [];
  #lastEnded: SweepRun | null = null;
  #tap: TapSession | null = null;
  #tappedSince: { any: boolean; end: TappedEnd | null } = { any: false, end: null };
  #zeroMoved: string | null = null;
  #zeroMovedDuringSweep = false;
  #keyedDigitMm: number | null = null;

  constructor(store: SectionStore, options: BenchOptions) {
    this.#store = store;
    this.#options = options;
    this.#setup = options.remembered?.setup ?? firstSetup();
    this.#nudges = new NudgeDesk(options.remembered?.nudges ?? null);
    this.#store.set('setup', this.#setup);
    this.#store.set('nudges', this.#nudges.section);
    this.#tellPivot();
    this.#tellJob();
  }

  get setup(): Setup {
    return this.#setup;
  }

  get nudges(): NudgesSection {
    return this.#nudges.section;
  }

  get stage(): Stage {
    return this.#stage;
  }

  get jobNumber(): number {
    return this.#jobNumber;
  }

  setRecordFile(path: string | null): void {
    this.#recordFile = path;
    this.#tellJob();
  }

  raise(from: string, fault: Fault, atMs: number): void {
    this.#faults.raise(from, fault);
    this.#options.record({ entry: 'fault', atMs, from, fault });
    this.#store.set('faults', this.#faults.section());
  }

  clearFault(code: string): boolean {
    const cleared = this.#faults.clear(code);
    if (cleared) this.#store.set('faults', this.#faults.section());
    return cleared;
  }

  /** A whole reading of one device. Cheap: called up to thousands of times a second. */
  reading(link: LinkName, reading: Reading): void {
    this.#options.record({ entry: 'reading', atMs: reading.atMs, link, reading });
    this.#latest.note(link, reading);
    if (link === 'indicator') this.#indicatorReading(reading);
    else if (isUsable(reading)) this.#run?.taker.readout(this.#xOf(reading.valueMm), reading.atMs);
    if (this.#run?.isBeingTaken) this.#runChanged = true;
    this.#tellLive(reading.atMs);
    if (this.#run?.isBeingTaken && this.#run.taker.isComplete) this.#endSweep(reading.atMs);
  }

  linkReport(link: LinkName, report: LinkReport, atMs: number): void {
    const before = this.#report(link);
    this.#store.set('links', { ...this.#store.get('links'), [link]: report });
    if (before.state !== report.state) {
      this.#options.record({ entry: 'link', atMs, link, state: report.state });
      if (report.state === 'lost' || report.state === 'not set') {
        if (link === 'indicator') {
          this.#noteZeroMoved('the indicator was disconnected between the two sweeps');
          this.#tap?.noReading();
          this.#tellTap();
        }
        this.#latest.forget(link);
        this.#tellLive(atMs);
      }
    }
    if (before.simulated !== report.simulated) this.#tellJob();
  }

  /** To be called some ten times a second: judges what came since, ends what is over. */
  tick(nowMs: number): void {
    const run = this.#run;
    if (run?.isBeingTaken) {
      run.taker.tick(nowMs);
      if (run.taker.isComplete) {
        this.#endSweep(nowMs);
      } else if (this.#runChanged && nowMs - this.#judgedAtMs >= JUDGE_EVERY_MS) {
        this.#judgeRun(nowMs);
      }
    }
    this.#tellStale(nowMs);
  }

  /** One command that concerns measuring. Devices, demo and tablets are the service's own. */
  command(command: Command, nowMs: number): Answer {
    switch (command.kind) {
      case 'change setup':
        return this.#changeSetup(command.change, nowMs);
      case 'begin nudge':
        return this.#beginNudge(command.nudge, command.keyed, nowMs);
      case 'finish nudge':
        return this.#finishNudge(command.nudge, command.movedMm ?? 0, command.keyed, nowMs);
      case 'skip nudge':
        this.#nudges.skip(command.nudge);
        return this.#nudgeTold();
      case 'forget nudge':
        this.#nudges.forget(command.nudge);
        return this.#changeSetup(
          command.nudge === 'y' ? { rises: null } : { counts: null },
          nowMs,
          true,
        );
      case 'mark end':
        return this.#markEnd(command.end, nowMs);
      case 'begin sweep':
        return this.#beginSweep(nowMs);
      case 'take station':
        return this.#takeStation(command.keyed, nowMs);
      case 'take back':
        return this.#takeBack(nowMs);
      case 'start feed':
        return this.#feed('start', nowMs);
      case 'stop feed':
        return this.#feed('stop', nowMs);
      case 'end sweep':
        return this.#endByHand(nowMs);
      case 'abandon sweep':
        return this.#abandon(nowMs);
      case 'park':
        return this.#park(command.xMm, command.keyed, nowMs);
      case 'tap reading':
        return this.#tapReading(command.keyed, nowMs);
      case 'leave tap':
        this.#tap = null;
        this.#tellTap();
        this.#tellJob();
        return DONE;
      case 'set stage':
        return this.#setStage(command.stage);
      case 'zero moved':
        this.#noteZeroMoved('the indicator was zeroed or moved between the two sweeps');
        return done('The next sweep is not compared with the last one for the pivot.');
      case 'forget learned pivot':
        this.#pivots.forget();
        this.#rejudge(nowMs);
        return DONE;
      case 'new job':
        return this.#newJob();
      case 'clear fault':
        this.clearFault(command.code);
        return DONE;
      default:
        return refused(notHere(command.kind));
    }
  }

  // Readings.

  #indicatorReading(reading: Reading): void {
    if (!isUsable(reading)) {
      this.#tap?.noReading();
      this.#tellTap();
      return;
    }
    const mm = reading.valueMm;
    if (this.#zeroWatch.push(mm, this.#latest.digitMm ?? 0)) {
      this.#noteZeroMoved('the indicator went to exactly zero between two readings: it was zeroed');
    }
    const byKey = this.#report('indicator').trigger === 'its own key';
    const run = this.#run;
    if (run?.isBeingTaken) {
      run.taker.indicator(mm, reading.atMs);
      if (byKey && run.taker instanceof StationTaker && this.#setup.entry === 'device') {
        this.#takeAt(run.taker, mm, reading.atMs);
      }
    }
    if (this.#tap) {
      const step = byKey ? this.#tap.single(mm) : this.#tap.reading(mm, reading.atMs);
      if (step) this.#noteTapped(step, reading.atMs);
      this.#tellTap();
    }
  }

  #xOf(countMm: number): number {
    const { counts, leftEndCountMm } = this.#setup;
    return (counts ?? 1) * (countMm - leftEndCountMm);
  }

  #report(link: LinkName): LinkReport {
    return this.#store.get('links')[link];
  }

  /** A reading to measure with: typed where typed, else the device's latest if it is fresh. */
  #measure(
    keyed: string | undefined,
    nowMs: number,
  ): { ok: true; mm: number } | { ok: false; fault: Fault } {
    if (keyed !== undefined) {
      const read = readKeyed(keyed, this.#setup.keyedAs);
      if (!read.ok) return read;
      this.#keyedDigitMm = Math.min(this.#keyedDigitMm ?? Number.POSITIVE_INFINITY, read.digitMm);
      return { ok: true, mm: read.readingMm };
    }
    return this.#fromDevice('indicator', nowMs);
  }

  #fromDevice(
    link: LinkName,
    nowMs: number,
  ): { ok: true; mm: number } | { ok: false; fault: Fault } {
    const usable = this.#latest.usable(link, this.#report(link), nowMs);
    if (usable.ok) return usable;
    return {
      ok: false,
      fault: {
        code: 'no-fresh-reading',
        what: `There is no fresh reading of the ${link}. Nothing was taken.`,
        got: usable.why,
        remedy: 'Check it under Devices, or key the reading in.',
      },
    };
  }

  get #digitMm(): number | null {
    return this.#setup.entry === 'keyed' && this.#setup.way === 'stations'
      ? this.#keyedDigitMm
      : this.#latest.digitMm;
  }

  // Setup and nudges.

  #changeSetup(change: SetupChange, nowMs: number, nudgeChanged = false): Answer {
    if (this.#run?.isBeingTaken) {
      const fixed = FIXED_WHILE_SWEEPING.find((part) => change[part] !== undefined);
      if (fixed) return refused(sweepBeingTaken());
    }
    this.#setup = { ...this.#setup, ...change };
    this.#store.set('setup', this.#setup);
    if (change.rises !== undefined && this.#tap) {
      this.#tap = null;
      this.#tellTap();
    }
    if (nudgeChanged) this.#store.set('nudges', this.#nudges.section);
    this.#rejudge(nowMs);
    return DONE;
  }

  #beginNudge(nudge: NudgeName, keyed: string | undefined, nowMs: number): Answer {
    const before = nudge === 'y' ? this.#measure(keyed, nowMs) : this.#fromDevice('readout', nowMs);
    if (!before.ok) return refused(before.fault);
    this.#nudges.begin(nudge, before.mm);
    return this.#nudgeTold();
  }

  #finishNudge(
    nudge: NudgeName,
    movedMm: number,
    keyed: string | undefined,
    nowMs: number,
  ): Answer {
    const after = nudge === 'y' ? this.#measure(keyed, nowMs) : this.#fromDevice('readout', nowMs);
    if (!after.ok) return refused(after.fault);
    const finished = this.#nudges.finish(nudge, after.mm, movedMm, this.#setup);
    if (!finished.ok) return refused(finished.fault);
    this.#changeSetup(finished.change, nowMs, true);
    return done(finished.finding);
  }

  #nudgeTold(): Answer {
    this.#store.set('nudges', this.#nudges.section);
    this.#tellJob();
    return DONE;
  }

  #markEnd(end: 'left' | 'right', nowMs: number): Answer {
    const count = this.#fromDevice('readout', nowMs);
    if (!count.ok) return refused(count.fault);
    if (end === 'left') {
      const answer = this.#changeSetup({ leftEndCountMm: count.mm }, nowMs);
      return answer.ok ? done('This is the left end, x = 0.') : answer;
    }
    const travelMm = count.mm - this.#setup.leftEndCountMm;
    /** Two ends closer than this are one place. */
    const leastMm = 5;
    if (Math.abs(travelMm) < leastMm) {
      return refused({
        code: 'ends-too-close',
        what: 'The right end lies where the left end was marked.',
        got: `${travelMm.toFixed(2)} mm from it`,
        remedy:
          'Mark the left end first, move the table to the left until the stylus stands at the right end, then mark that.',
      });
    }
    const answer = this.#changeSetup(
      { counts: travelMm > 0 ? 1 : -1, sweptLengthMm: Math.abs(travelMm) },
      nowMs,
    );
    return answer.ok ? done('This is the right end.') : answer;
  }

  // Sweeps.

  #beginSweep(nowMs: number): Answer {
    if (this.#run?.isBeingTaken) return refused(sweepBeingTaken());
    const { way, entry, counts } = this.#setup;
    if (way === 'readout' && counts === null) {
      return refused({
        code: 'counting-not-known',
        what: 'It is not known yet which way the readout counts.',
        got: '',
        remedy:
          'Do the X nudge, or mark the left end and the right end, or set the direction in the setup.',
      });
    }
    const needed: LinkName[] =
      way === 'readout'
        ? ['indicator', 'readout']
        : way === 'feed' || entry === 'device'
          ? ['indicator']
          : [];
    const missing = needed.find((link) => this.#report(link).config === null);
    if (missing) return refused(deviceMissing(missing));
    this.#tap = null;
    this.#tellTap();
    this.#sweepCount += 1;
    this.#run = new SweepRun(
      this.#sweepCount,
      this.#stage,
      this.#setup,
      this.#isSimulated(needed),
      this.#nudges.missing(this.#setup),
    );
    this.#keyedDigitMm = null;
    this.#zeroMovedDuringSweep = false;
    this.#judgeRun(nowMs);
    this.#tellJob();
    return done(`Sweep ${this.#sweepCount} begins, at ${this.#stage}.`);
  }

  #takeStation(keyed: string | undefined, nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken || !(run.taker instanceof StationTaker)) return refused(noSweep());
    if (this.#setup.entry === 'keyed' && keyed === undefined) {
      return refused({
        code: 'nothing-typed',
        what: 'Readings are typed in, and nothing was typed.',
        got: '',
        remedy: 'Type the reading into the box, then Enter.',
      });
    }
    const measured = this.#measure(keyed, nowMs);
    if (!measured.ok) return refused(measured.fault);
    this.#takeAt(run.taker, measured.mm, nowMs);
    return DONE;
  }

  #takeAt(taker: StationTaker, readingMm: number, atMs: number): void {
    const station = taker.take(readingMm);
    if (!station || !this.#run) return;
    this.#options.record({ entry: 'station', atMs, sweep: this.#run.id, readingMm, ...station });
    if (taker.isComplete) this.#endSweep(atMs);
    else this.#judgeRun(atMs);
  }

  #takeBack(nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken || !(run.taker instanceof StationTaker)) return refused(noSweep());
    if (!run.taker.takeBack()) {
      return refused({
        code: 'nothing-to-take-back',
        what: 'No station has been taken yet.',
        got: '',
        remedy: 'Take the first one.',
      });
    }
    this.#judgeRun(nowMs);
    return done('The last station is struck out; it stays on the record.');
  }

  #feed(which: 'start' | 'stop', nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken || !(run.taker instanceof FeedTaker)) return refused(noSweep());
    const went = which === 'start' ? run.taker.start(nowMs) : run.taker.stop(nowMs);
    if (!went) {
      return refused({
        code: 'feed-mark-refused',
        what: which === 'start' ? 'The feed is running already.' : 'The feed has not been started.',
        got: '',
        remedy: which === 'start' ? 'Set the last mark first.' : 'Set the first mark first.',
      });
    }
    if (run.taker.isComplete) this.#endSweep(nowMs);
    else this.#judgeRun(nowMs);
    return DONE;
  }

  #endByHand(nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken) return refused(noSweep());
    if (run.taker instanceof FeedTaker && run.taker.isRunning) run.taker.stop(nowMs);
    run.taker.tick(nowMs);
    this.#endSweep(nowMs);
    return run.result ? DONE : done(`The sweep ended without a line. ${run.section().noResultYet}`);
  }

  #abandon(nowMs: number): Answer {
    const run = this.#run;
    if (!run?.isBeingTaken) return refused(noSweep());
    run.end();
    this.#options.record({
      entry: 'sweep ended',
      atMs: nowMs,
      sweep: run.id,
      stage: run.stage,
      simulated: run.simulated,
      result: null,
    });
    this.#run = this.#lastEnded;
    this.#store.set('sweep', this.#run?.section() ?? null);
    this.#tellJob();
    return done('The sweep is abandoned; what was taken stays on the record.');
  }

  #judgeRun(nowMs: number): void {
    if (!this.#run) return;
    this.#judgedAtMs = nowMs;
    this.#runChanged = false;
    this.#run.judge(
      this.#setup,
      this.#pivots.inUse(this.#setup, this.#run.stage).xMm,
      this.#digitMm,
    );
    this.#store.set('sweep', this.#run.section());
  }

  #endSweep(nowMs: number): void {
    const run = this.#run;
    if (!run) return;
    run.end();
    this.#judgeRun(nowMs);
    const { result } = run;
    this.#options.record({
      entry: 'sweep ended',
      atMs: nowMs,
      sweep: run.id,
      stage: run.stage,
      simulated: run.simulated,
      result,
    });
    if (result === null) {
      this.#run = this.#lastEnded ?? run;
      this.#tellJob();
      return;
    }
    this.#learnFrom(run);
    // The pivot may just have been learned from this very sweep: the advice uses it.
    this.#judgeRun(nowMs);
    this.#history.push(this.#summary(run));
    if (this.#history.length > MOST_SWEEPS) this.#history.shift();
    this.#lastEnded = run;
    this.#tappedSince = { any: false, end: null };
    if (!this.#zeroMovedDuringSweep) this.#zeroMoved = null;
    this.#store.set('history', { sweeps: [...this.#history] });
    this.#tellPivot();
    this.#tellJob();
  }

  #learnFrom(run: SweepRun): void {
    const before = this.#lastEnded;
    if (!before?.result || !run.result || !before.start || !run.start) return;
    this.#pivots.note(
      {
        before: {
          id: before.id,
          stage: before.stage,
          evidence: { result: before.result, start: before.start },
        },
        after: { id: run.id, stage: run.stage, evidence: { result: run.result, start: run.start } },
        end: this.#tappedSince.end ?? endOf(this.#setup.malletMm, this.#setup),
        zeroMoved: this.#zeroMoved,
      },
      this.#setup,
      this.#digitMm,
    );
  }

  #summary(run: SweepRun): SweepSummary {
    const before = this.#lastEnded;
    const tightened = before?.result && before.stage !== run.stage && !this.#tappedSince.any;
    return {
      id: run.id,
      stage: run.stage,
      result: run.result!,
      simulated: run.simulated,
      shiftArcsec: tightened ? run.result!.outOfTrueArcsec - before.result!.outOfTrueArcsec : null,
      zeroMoved: before ? this.#zeroMoved : null,
    };
  }

  /** What the last sweep says by a changed setup or pivot. */
  #rejudge(nowMs: number): void {
    this.#tellPivot();
    if (this.#run) {
      this.#judgeRun(nowMs);
      const { id, result } = this.#run;
      const row = this.#history.findIndex((summary) => summary.id === id);
      if (result && row !== -1) {
        this.#history[row] = { ...this.#history[row]!, result };
        this.#store.set('history', { sweeps: [...this.#history] });
      }
    }
    this.#tellJob();
  }

  // Tapping, stages, zero.

  #park(xMm: number, keyed: string | undefined, nowMs: number): Answer {
    if (this.#run?.isBeingTaken) return refused(sweepBeingTaken());
    const last = this.#lastEnded;
    if (!last?.result) {
      return refused({
        code: 'nothing-to-tap-by',
        what: 'There is no sweep to tap by yet.',
        got: '',
        remedy: 'Sweep the bar first; then park the stylus near the end that is tapped.',
      });
    }
    const reading = this.#measure(keyed, nowMs);
    if (!reading.ok) return refused(reading.fault);
    const parked = TapSession.park({
      sweepId: last.id,
      result: last.result,
      setup: this.#setup,
      pivotMm: this.#pivots.inUse(this.#setup, this.#stage).xMm,
      parkedAtMm: xMm,
      parkedReadingMm: reading.mm,
      digitMm: this.#digitMm ?? 0,
    });
    if (!parked.ok) return refused(parked.fault);
    this.#tap = parked.session;
    this.#tellTap();
    this.#tellJob();
    return DONE;
  }

  #tapReading(keyed: string, nowMs: number): Answer {
    if (!this.#tap) {
      return refused({
        code: 'not-parked',
        what: 'The stylus is not parked.',
        got: keyed,
        remedy: 'Park it at a station first.',
      });
    }
    const reading = this.#measure(keyed, nowMs);
    if (!reading.ok) return refused(reading.fault);
    this.#noteTapped(this.#tap.single(reading.mm), nowMs);
    this.#tellTap();
    return DONE;
  }

  #noteTapped(step: ReturnType<TapSession['single']>, atMs: number): void {
    const last = this.#lastEnded;
    if (last) this.#options.record({ entry: 'tap step', atMs, sweep: last.id, step });
    if (step.effect === 'nothing moved') return;
    this.#tappedSince = { any: true, end: endOf(this.#setup.malletMm, this.#setup) };
    this.#tellJob();
  }

  #setStage(stage: Stage): Answer {
    if (this.#run?.isBeingTaken) return refused(sweepBeingTaken());
    if (stage === this.#stage) return DONE;
    this.#stage = stage;
    // What the needle shows from here on is the clamps' doing, not the mallet's.
    this.#tap = null;
    this.#tellTap();
    this.#tellPivot();
    this.#tellJob();
    return done(stage === 'tight' ? 'Tight. Sweep again: tightening may have turned it.' : '');
  }

  #noteZeroMoved(why: string): void {
    if (this.#sweepCount === 0) return;
    this.#zeroMoved = why;
    if (this.#run?.isBeingTaken) this.#zeroMovedDuringSweep = true;
  }

  #newJob(): Answer {
    this.#jobNumber += 1;
    this.#run = null;
    this.#lastEnded = null;
    this.#history = [];
    this.#tap = null;
    this.#zeroMoved = null;
    this.#tappedSince = { any: false, end: null };
    this.#pivots.forget();
    this.#stage = 'nipped';
    this.#store.set('sweep', null);
    this.#store.set('history', { sweeps: [] });
    this.#tellTap();
    this.#tellPivot();
    this.#tellJob();
    return done(`Job ${this.#jobNumber}. Setup, nudges and devices are kept.`);
  }

  // Telling.

  #isSimulated(links: readonly LinkName[]): boolean {
    return links.some((link) => this.#report(link).simulated);
  }

  #tellLive(nowMs: number): void {
    const indicator = this.#latest.of('indicator');
    const readout = this.#latest.of('readout');
    this.#store.set('live', {
      indicator,
      readout,
      ageMs: indicator ? Math.max(0, nowMs - indicator.atMs) : null,
      staleAfterMs: staleAfterMs(this.#report('indicator')),
      xMm:
        readout && isUsable(readout) && this.#setup.counts !== null
          ? this.#xOf(readout.valueMm)
          : null,
    });
  }

  #tellStale(nowMs: number): void {
    const indicator = this.#latest.of('indicator');
    if (!indicator || nowMs - indicator.atMs < STALE_TOLD_FROM_MS) return;
    if (nowMs - this.#staleToldAtMs < TELL_STALE_EVERY_MS) return;
    this.#staleToldAtMs = nowMs;
    this.#tellLive(nowMs);
  }

  #tellTap(): void {
    const section = this.#tap?.section() ?? null;
    if (section === null && this.#store.get('tap') === null) return;
    this.#store.set('tap', section);
  }

  #tellPivot(): void {
    this.#store.set('pivot', this.#pivots.section(this.#setup, this.#stage));
  }

  #tellJob(): void {
    const last = this.#lastEnded;
    const facts: JobFacts = {
      stage: this.#stage,
      setup: this.#setup,
      sensesKnown: this.#setup.rises !== null,
      sweepBeingTaken: this.#run?.isBeingTaken ?? false,
      parked: this.#tap !== null,
      last: last?.result
        ? { stage: last.stage, result: last.result, tappedSince: this.#tappedSince.any }
        : null,
    };
    const job = jobStanding(facts);
    this.#store.set('bench', {
      name: this.#options.name,
      simulated: this.#isSimulated(['indicator', 'readout']),
      recordFile: this.#recordFile,
      serviceVersion: this.#options.serviceVersion,
      stage: this.#stage,
      job: { number: this.#jobNumber, ...job },
      cautions: safetyCautions(facts, job.standing),
    });
  }
}
