import {
  type Answer,
  type Command,
  type Fault,
  isUsable,
  type JobCardChange,
  type JobStart,
  type LinkName,
  type LinkReport,
  type NudgesSection,
  nextCard,
  nextSetup,
  type Reading,
  type RecordEntry,
  type Setup,
  type SetupChange,
  type Stage,
} from '@taptrue/protocol';
import { DONE, done, refused } from '../state/answers.ts';
import type { SectionStore } from '../state/section-store.ts';
import type { BenchOptions } from './bench-options.ts';
import type { DeskContext } from './desk.ts';
import { type Desks, seatDesks } from './desks.ts';
import { firstStart, openedEntry } from './first-start.ts';
import { givesSweepsMeaning } from './gives-sweeps-meaning.ts';
import { isWorthRecording } from './is-worth-recording.ts';
import { jobTold } from './job-told.ts';
import type { Measuring } from './measuring.ts';
import { notHere, sweepBeingTaken } from './refusals.ts';
import type { JobFacts } from './standing.ts';
import { SETTLED_BY_A_SWEEP, StandingFaults } from './standing-faults.ts';
import { stationsOnBar } from './stations-on-bar.ts';

/** Told to whoever asks for what is not the bench's own; nothing is recorded. */
const NOT_OURS: Answer = { ok: true, note: '' };

/**
 * One bench: what was told to it, what it measures, what it advises. No I/O and no clock: time comes with
 * every call, so that the same calls give the same state. Sweeps, taps and nudges have a desk each; what
 * concerns them all is here.
 */
export class Bench {
  readonly #options: BenchOptions;
  readonly #store: SectionStore;
  readonly #faults = new StandingFaults();
  #desks: Desks;
  #job: Pick<JobStart, 'job' | 'key'>;
  #setup: Setup;
  #stage: Stage;
  #countedJobs = 0;
  #recordFile: string | null = null;

  /** Begins a job at once; `atMs` is when. */
  constructor(store: SectionStore, options: BenchOptions, atMs = 0) {
    this.#store = store;
    this.#options = options;
    const { remembered } = options;
    const start = options.start ?? firstStart(this.#nextJob(), remembered, store.get('links'));
    this.#setup = start.setup;
    this.#stage = start.stage;
    this.#job = { job: start.job, key: start.key };
    this.#desks = this.#begin(start, atMs);
    this.#tellJob();
  }

  get setup(): Setup {
    return this.#setup;
  }

  get nudges(): NudgesSection {
    return this.#desks.nudges.section;
  }

  get stage(): Stage {
    return this.#stage;
  }

  get jobNumber(): number {
    return this.#job.job;
  }

  /** Names this job in the record. */
  get jobKey(): string {
    return this.#job.key;
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
    this.#desks.measuring.latest.note(link, reading);
    this.#desks.sweepWatch.reading(link, reading, this.#setup);
    if (link === 'indicator') this.#indicatorReading(reading);
    else if (isUsable(reading)) {
      const xMm = this.#desks.live.xOf(reading.valueMm);
      this.#desks.sweeps.readout(xMm, reading.atMs);
      this.#desks.taps.readout(xMm, reading.atMs);
    }
    this.#desks.live.tell(reading.atMs);
  }

  /** A reading of another axis of the readout: it must stand still while the bar is swept. */
  otherAxis(link: LinkName, reading: Reading): void {
    this.#options.record({ entry: 'reading', atMs: reading.atMs, link, reading, second: true });
    if (link !== 'readout') return;
    this.#desks.measuring.latest.otherAxis = reading;
    this.#desks.sweepWatch.otherAxis(reading, this.#setup.displayUnit);
  }

  linkReport(link: LinkName, report: LinkReport, atMs: number): void {
    const before = this.#report(link);
    this.#store.set('links', { ...this.#store.get('links'), [link]: report });
    if (isWorthRecording(before, report))
      this.#options.record({ entry: 'link', atMs, link, report });
    this.#desks.sweepWatch.report(link, report);
    const isGone = report.state === 'lost' || report.state === 'not set';
    if (isGone && before.state !== report.state) this.#linkGone(link, atMs);
    if (before.simulated !== report.simulated) this.#tellJob();
  }

  /** To be called some ten times a second: judges what came since, ends what is over. */
  tick(nowMs: number): void {
    // What a tick ends or refuses is part of the sweep: a replay must tick at the same moments.
    if (this.#desks.sweeps.isSweeping) this.#options.record({ entry: 'tick', atMs: nowMs });
    this.#desks.sweeps.tick(nowMs);
    this.#desks.live.tick(nowMs);
  }

  /** One command that concerns measuring, recorded with its answer. Devices, demo and tablets are the service's own. */
  command(command: Command, nowMs: number): Answer {
    if (command.kind === 'new job') return this.#newJob(nowMs);
    const answer = this.#carryOut(command, nowMs);
    if (answer !== NOT_OURS) {
      this.#options.record({ entry: 'command', atMs: nowMs, command, answer });
      return answer;
    }
    return refused(notHere(command.kind));
  }

  #carryOut(command: Command, nowMs: number): Answer {
    switch (command.kind) {
      case 'change setup': {
        const { counts } = this.#setup;
        const answer = this.#changeSetup(command.change, nowMs);
        if (this.#setup.counts !== counts) this.#desks.nudges.countsGiven();
        return answer;
      }
      case 'begin nudge':
        return this.#desks.nudges.begin(command.nudge, command, nowMs);
      case 'finish nudge':
        return this.#desks.nudges.finish(command.nudge, command.movedMm ?? null, command, nowMs);
      case 'skip nudge':
        return this.#desks.nudges.skip(command.nudge);
      case 'forget nudge':
        return this.#desks.nudges.forget(command.nudge, nowMs);
      case 'mark end':
        return this.#desks.nudges.markEnd(command.end, nowMs);
      case 'begin sweep': {
        this.#desks.taps.noteWaiting();
        const answer = this.#desks.sweeps.begin(nowMs);
        if (answer.ok) this.#desks.taps.leave();
        if (answer.ok) for (const code of SETTLED_BY_A_SWEEP) this.clearFault(code);
        return answer;
      }
      case 'take station':
        return this.#desks.sweeps.takeStation(command, nowMs);
      case 'take back':
        return this.#desks.sweeps.takeBack(nowMs);
      case 'start feed':
        return this.#desks.sweeps.feed('start', nowMs);
      case 'stop feed':
        return this.#desks.sweeps.feed('stop', nowMs);
      case 'end sweep':
        return this.#desks.sweeps.endByHand(nowMs);
      case 'abandon sweep':
        return this.#desks.sweeps.abandon(nowMs);
      case 'park':
        return this.#desks.taps.park(command.xMm, command, nowMs);
      case 'tap reading':
        return this.#desks.taps.keyed(command, nowMs);
      case 'leave tap':
        this.#desks.taps.leave();
        return DONE;
      case 'set stage':
        return this.#setStage(command.stage);
      case 'zero moved':
        this.#desks.sweeps.zeroMoved('the indicator was zeroed or moved');
        this.#desks.taps.spoil('the indicator was zeroed or moved');
        this.#desks.taps.leave();
        return done(
          'Noted: the last stop reading no longer holds, and the next sweep teaches nothing of the pivot.',
        );
      case 'answer turn':
        return this.#desks.sweeps.answerTurn(command.yes, nowMs);
      case 'forget learned pivot':
        return this.#desks.sweeps.forgetPivot(nowMs);
      case 'change card':
        return this.#changeCard(command.change);
      case 'clear fault':
        this.clearFault(command.code);
        return DONE;
      default:
        return this.#desks.setUps.command(command, nowMs) ?? NOT_OURS;
    }
  }

  #nextJob(): Pick<JobStart, 'job' | 'key'> {
    const next = this.#options.nextJob?.();
    const job = next?.number ?? this.#countedJobs + 1;
    this.#countedJobs = job;
    return { job, key: next?.key ?? `job-${job}` };
  }

  /** Seats fresh desks as `start` says, so that nothing of the job before, told or untold, reaches into this one. */
  #begin(start: JobStart, atMs: number): Desks {
    this.#setup = start.setup;
    this.#stage = start.stage;
    this.#job = { job: start.job, key: start.key };
    this.#store.set('links', start.links);
    this.#store.set('card', start.card);
    const desks = seatDesks({
      setup: () => this.#setup,
      report: (link) => this.#report(link),
      contextFor: (measuring) => this.#context(measuring),
      start,
      setUps: this.#options.setUps ?? [],
    });
    this.#desks = desks;
    this.#store.set('setup', this.#setup);
    this.#store.set('tap', null);
    desks.sweeps.tellPivot();
    desks.sweeps.tellJobBegun();
    desks.live.tell(atMs);
    this.#options.record(openedEntry(this.#options, start, atMs));
    return desks;
  }

  #context(measuring: Measuring): DeskContext {
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
        return measuring.digitMm;
      },
      get isSweeping() {
        return bench.#desks.sweeps.isSweeping;
      },
      changeSetup: (change: SetupChange, nowMs: number) => this.#changeSetup(change, nowMs),
      report: (link: LinkName) => this.#report(link),
      record: (entry: RecordEntry) => this.#options.record(entry),
      raise: (from: string, fault: Fault, atMs: number) => this.raise(from, fault, atMs),
      standingChanged: () => this.#tellJob(),
    };
  }

  #indicatorReading(reading: Reading): void {
    if (!isUsable(reading)) {
      this.#desks.taps.noReading();
      return;
    }
    const { valueMm, atMs } = reading;
    if (this.#desks.measuring.isNeedleSeenFirst(valueMm)) this.#desks.sweeps.needleSeen(atMs);
    if (this.#desks.zeroWatch.push(valueMm, this.#desks.measuring.latest.digitMm ?? 0)) {
      const why = 'the indicator went to zero between two readings: it was zeroed';
      this.#desks.sweeps.zeroMoved(why);
      this.#desks.taps.wentToZero(why, atMs);
    }
    const byKey = this.#report('indicator').trigger === 'its own key';
    this.#desks.sweeps.indicator(valueMm, atMs, byKey);
    this.#desks.taps.indicator(valueMm, atMs, byKey);
  }

  #linkGone(link: LinkName, atMs: number): void {
    if (link === 'indicator') {
      this.#desks.measuring.needle.forget();
      this.#desks.sweeps.zeroMoved('the indicator was disconnected');
      this.#desks.taps.disconnected();
    }
    this.#desks.measuring.latest.forget(link);
    this.#desks.live.tell(atMs);
  }

  #report(link: LinkName): LinkReport {
    return this.#store.get('links')[link];
  }

  #changeSetup(change: SetupChange, nowMs: number): Answer {
    if (this.#desks.sweeps.isSweeping && givesSweepsMeaning(change, this.#setup)) {
      return refused(sweepBeingTaken());
    }
    this.#desks.sweeps.setUpChanged(this.#desks.sweeps.voidedBy(change));
    this.#takeSetup(stationsOnBar(this.#desks.nudges.belongTo(change), this.#setup), nowMs);
    return DONE;
  }

  /** True where this job has a sweep with a line, and none is being taken. */
  get hasSwept(): boolean {
    return !this.#desks.sweeps.isSweeping && this.#desks.sweeps.last !== null;
  }

  /** A replay tries another setup: what was measured is judged by it as well. */
  tryOtherwise(change: SetupChange, nowMs: number): void {
    this.#desks.sweeps.tryUnder(change);
    this.#takeSetup(change, nowMs);
  }

  #takeSetup(change: SetupChange, nowMs: number): void {
    this.#setup = { ...this.#setup, ...change };
    this.#store.set('setup', this.#setup);
    this.#desks.sweeps.rejudge(nowMs);
    this.#desks.taps.setupChanged();
    this.#tellJob();
  }

  #setStage(stage: Stage): Answer {
    if (this.#desks.sweeps.isSweeping) return refused(sweepBeingTaken());
    if (stage === this.#stage) return DONE;
    this.#stage = stage;
    // What the needle shows from here on is the clamps' doing, not the mallet's.
    this.#desks.taps.spoil('the clamps were changed');
    this.#desks.taps.leave();
    this.#desks.sweeps.clampsChanged();
    this.#tellJob();
    return done(`The clamps are ${stage}.`);
  }

  #newJob(nowMs: number): Answer {
    const { record, wallClock } = this.#options;
    const { latest } = this.#desks.measuring;
    const next = this.#nextJob();
    const answer = done(`Job ${next.job}. Setup, nudges and devices are kept.`);
    record({ entry: 'command', atMs: nowMs, command: { kind: 'new job' }, answer });
    record({ entry: 'closed', atMs: nowMs, wallClock: wallClock?.() ?? '' });
    this.#begin(
      {
        ...next,
        setup: nextSetup(this.#setup),
        stage: 'nipped',
        nudges: this.#desks.nudges.section,
        links: this.#store.get('links'),
        latest: { indicator: latest.of('indicator'), readout: latest.of('readout') },
        card: nextCard(this.#store.get('card')),
      },
      nowMs,
    );
    this.#tellJob();
    return answer;
  }

  #changeCard(change: JobCardChange): Answer {
    this.#store.set('card', { ...this.#store.get('card'), ...change });
    return DONE;
  }

  #tellJob(): void {
    const { last } = this.#desks.sweeps;
    const facts: JobFacts = {
      stage: this.#stage,
      setup: this.#setup,
      // Skipped: the nudge is no longer the thing to do, and the page asks for the sense.
      sensesKnown: this.#setup.rises !== null || this.#desks.nudges.section.y.state === 'skipped',
      sweeping: this.#desks.sweeps.sweeping,
      parked: this.#desks.taps.isParked,
      last: last && { ...last, stage: last.run.stage },
    };
    const told = {
      name: this.#options.name,
      simulated: this.#report('indicator').simulated || this.#report('readout').simulated,
      recordFile: this.#recordFile,
      serviceVersion: this.#options.serviceVersion,
      stage: this.#stage,
      number: this.#job.job,
    };
    this.#store.set('bench', jobTold(told, facts));
  }
}
