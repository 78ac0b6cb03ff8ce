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
} from '@taptrue/protocol';
import type { SectionStore } from '../stream/section-store.ts';
import { DONE, done, refused } from './desk.ts';
import { LiveNeedle } from './live-needle.ts';
import { Measuring } from './measuring.ts';
import { NudgeDesk } from './nudge-desk.ts';
import { notHere, sweepBeingTaken } from './refusals.ts';
import { type JobFacts, jobStanding, safetyCautions } from './standing.ts';
import { StandingFaults } from './standing-faults.ts';
import { SweepDesk } from './sweep-desk.ts';
import { TapDesk } from './tap-desk.ts';
import { ZeroWatch } from './zero-watch.ts';

/** These parts of the setup give a sweep its meaning and may not change under it. */
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

/**
 * One bench: what was told to it, what it measures, what it advises. No I/O and no clock: time comes with
 * every call, so that the same calls give the same state. Sweeps, taps and nudges have a desk each; what
 * concerns them all is here.
 */
export class Bench {
  readonly #options: BenchOptions;
  readonly #store: SectionStore;
  readonly #faults = new StandingFaults();
  readonly #zeroWatch = new ZeroWatch();
  readonly #measuring: Measuring;
  readonly #live: LiveNeedle;
  readonly #nudges: NudgeDesk;
  readonly #sweeps: SweepDesk;
  readonly #taps: TapDesk;
  #setup: Setup;
  #stage: Stage = 'nipped';
  #jobNumber = 1;
  #recordFile: string | null = null;

  constructor(store: SectionStore, options: BenchOptions) {
    this.#store = store;
    this.#options = options;
    this.#setup = options.remembered?.setup ?? firstSetup();
    this.#measuring = new Measuring(
      () => this.#setup,
      (link) => this.#report(link),
    );
    const context = this.#context();
    this.#live = new LiveNeedle(context, this.#measuring.latest);
    this.#nudges = new NudgeDesk(context, this.#measuring, options.remembered?.nudges ?? null);
    this.#sweeps = new SweepDesk(context, this.#measuring, this.#nudges);
    this.#taps = new TapDesk(context, this.#measuring, this.#sweeps);
    this.#store.set('setup', this.#setup);
    this.#sweeps.tellPivot();
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

  /** False where no such fault stands. */
  clearFault(code: string): boolean {
    const cleared = this.#faults.clear(code);
    if (cleared) this.#store.set('faults', this.#faults.section());
    return cleared;
  }

  /** A whole reading of one device. Cheap: called up to thousands of times a second. */
  reading(link: LinkName, reading: Reading): void {
    this.#options.record({ entry: 'reading', atMs: reading.atMs, link, reading });
    this.#measuring.latest.note(link, reading);
    if (link === 'indicator') this.#indicatorReading(reading);
    else if (isUsable(reading)) this.#sweeps.readout(this.#live.xOf(reading.valueMm), reading.atMs);
    this.#live.tell(reading.atMs);
  }

  linkReport(link: LinkName, report: LinkReport, atMs: number): void {
    const before = this.#report(link);
    this.#store.set('links', { ...this.#store.get('links'), [link]: report });
    if (before.state !== report.state) {
      this.#options.record({ entry: 'link', atMs, link, state: report.state });
      if (report.state === 'lost' || report.state === 'not set') this.#linkGone(link, atMs);
    }
    if (before.simulated !== report.simulated) this.#tellJob();
  }

  /** To be called some ten times a second: judges what came since, ends what is over. */
  tick(nowMs: number): void {
    this.#sweeps.tick(nowMs);
    this.#live.tick(nowMs);
  }

  /** One command that concerns measuring. Devices, demo and tablets are the service's own. */
  command(command: Command, nowMs: number): Answer {
    switch (command.kind) {
      case 'change setup': {
        const { counts } = this.#setup;
        const answer = this.#changeSetup(command.change, nowMs);
        if (this.#setup.counts !== counts) this.#nudges.countsGiven();
        return answer;
      }
      case 'begin nudge':
        return this.#nudges.begin(command.nudge, command.keyed, nowMs);
      case 'finish nudge':
        return this.#nudges.finish(command.nudge, command.movedMm ?? 0, command.keyed, nowMs);
      case 'skip nudge':
        return this.#nudges.skip(command.nudge);
      case 'forget nudge':
        return this.#nudges.forget(command.nudge, nowMs);
      case 'mark end':
        return this.#nudges.markEnd(command.end, nowMs);
      case 'begin sweep': {
        const answer = this.#sweeps.begin(nowMs);
        if (answer.ok) this.#taps.leave();
        return answer;
      }
      case 'take station':
        return this.#sweeps.takeStation(command.keyed, nowMs);
      case 'take back':
        return this.#sweeps.takeBack(nowMs);
      case 'start feed':
        return this.#sweeps.feed('start', nowMs);
      case 'stop feed':
        return this.#sweeps.feed('stop', nowMs);
      case 'end sweep':
        return this.#sweeps.endByHand(nowMs);
      case 'abandon sweep':
        return this.#sweeps.abandon(nowMs);
      case 'park':
        return this.#taps.park(command.xMm, command.keyed, nowMs);
      case 'tap reading':
        return this.#taps.keyed(command.keyed, nowMs);
      case 'leave tap':
        this.#taps.leave();
        return DONE;
      case 'set stage':
        return this.#setStage(command.stage);
      case 'zero moved':
        this.#sweeps.zeroMoved('the indicator was zeroed or moved');
        this.#taps.spoil('the indicator was zeroed or moved');
        this.#taps.leave();
        return done(
          'Noted: the last stop reading no longer holds, and the next sweep teaches nothing of the pivot.',
        );
      case 'forget learned pivot':
        this.#sweeps.pivots.forget();
        this.#sweeps.rejudge(nowMs);
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

  #context() {
    const bench = this;
    return {
      store: this.#store,
      get setup() {
        return bench.#setup;
      },
      get stage() {
        return bench.#stage;
      },
      get digitMm() {
        return bench.#measuring.digitMm;
      },
      get isSweeping() {
        return bench.#sweeps.isSweeping;
      },
      changeSetup: (change: SetupChange, nowMs: number) => this.#changeSetup(change, nowMs),
      report: (link: LinkName) => this.#report(link),
      record: (entry: RecordEntry) => this.#options.record(entry),
      standingChanged: () => this.#tellJob(),
    };
  }

  #indicatorReading(reading: Reading): void {
    if (!isUsable(reading)) {
      this.#taps.noReading();
      return;
    }
    const { valueMm, atMs } = reading;
    if (this.#zeroWatch.push(valueMm, this.#measuring.latest.digitMm ?? 0)) {
      const why = 'the indicator went to zero between two readings: it was zeroed';
      this.#sweeps.zeroMoved(why);
      this.#taps.spoil(why);
      // Inside the stop band it may have been a good blow, and "stop, sweep again" holds either way.
      if (this.#store.get('tap')?.standing !== 'stop') this.#taps.leave();
    }
    const byKey = this.#report('indicator').trigger === 'its own key';
    this.#sweeps.indicator(valueMm, atMs, byKey);
    this.#taps.indicator(valueMm, atMs, byKey);
  }

  #linkGone(link: LinkName, atMs: number): void {
    if (link === 'indicator') {
      this.#sweeps.zeroMoved('the indicator was disconnected');
      this.#taps.disconnected();
    }
    this.#measuring.latest.forget(link);
    this.#live.tell(atMs);
  }

  #report(link: LinkName): LinkReport {
    return this.#store.get('links')[link];
  }

  #changeSetup(change: SetupChange, nowMs: number): Answer {
    if (
      this.#sweeps.isSweeping &&
      FIXED_WHILE_SWEEPING.some((part) => change[part] !== undefined)
    ) {
      return refused(sweepBeingTaken());
    }
    this.#setup = { ...this.#setup, ...change };
    this.#store.set('setup', this.#setup);
    this.#sweeps.rejudge(nowMs);
    this.#taps.setupChanged();
    this.#tellJob();
    return DONE;
  }

  #setStage(stage: Stage): Answer {
    if (this.#sweeps.isSweeping) return refused(sweepBeingTaken());
    if (stage === this.#stage) return DONE;
    this.#stage = stage;
    // What the needle shows from here on is the clamps' doing, not the mallet's.
    this.#taps.spoil('the clamps were changed');
    this.#taps.leave();
    this.#sweeps.clampsChanged();
    this.#tellJob();
    return done(`The clamps are ${stage}.`);
  }

  #newJob(): Answer {
    this.#jobNumber += 1;
    this.#stage = 'nipped';
    this.#taps.leave();
    this.#sweeps.newJob();
    this.#tellJob();
    return done(`Job ${this.#jobNumber}. Setup, nudges and devices are kept.`);
  }

  #tellJob(): void {
    const { last } = this.#sweeps;
    const facts: JobFacts = {
      stage: this.#stage,
      setup: this.#setup,
      // Skipped: the nudge is no longer the thing to do, and the page asks for the sense.
      sensesKnown: this.#setup.rises !== null || this.#nudges.section.y.state === 'skipped',
      sweeping: this.#sweeps.sweeping,
      parked: this.#taps.isParked,
      last: last && { ...last, stage: last.run.stage },
    };
    const job = jobStanding(facts);
    this.#store.set('bench', {
      name: this.#options.name,
      simulated: this.#report('indicator').simulated || this.#report('readout').simulated,
      recordFile: this.#recordFile,
      serviceVersion: this.#options.serviceVersion,
      stage: this.#stage,
      job: { number: this.#jobNumber, ...job },
      cautions: safetyCautions(facts, job.standing),
    });
  }
}
