import {
  type Caution,
  type DrawnPoint,
  faultLine,
  lagOf,
  type MeasuredUnder,
  type PassName,
  type Setup,
  type Stage,
  type SweepResult,
  type SweepSection,
} from '@taptrue/protocol';
import { judgeSweep } from '../measure/verdict/judge-sweep.ts';
import { FeedTaker } from './feed-samples.ts';
import { hurried } from './hurry.ts';
import { asMeasured, measuredUnder } from './measured-under.ts';
import type { PivotInUse } from './pivot-in-use.ts';
import { malletWords } from './pivot-words.ts';
import { ReadoutTaker } from './readout-samples.ts';
import type { TakenPass, Taker } from './sample-sources.ts';
import type { JobFacts } from './standing.ts';
import { StationTaker } from './station-samples.ts';
import { sweepInputOf } from './sweep-input-of.ts';

/** Points sent to a screen: both passes of 128 bins. */
const MOST_DRAWN = 256;
/** Means of one and the same reading differ by their rounding only, mm. */
const SAME_READING_MM = 1e-9;
/** Each kind is noticed once; more kinds than this there are not. */
const MOST_NOTICED = 8;

function takerFor(setup: Setup): Taker {
  switch (setup.way) {
    case 'stations':
      return new StationTaker(setup.stationsMm, setup.backPass);
    case 'readout':
      return new ReadoutTaker({ readingLagMs: lagOf(setup) });
    case 'feed':
      return new FeedTaker(setup.feed, setup.backPass);
  }
}

/** One sweep, from its first reading to its result. */
export class SweepRun {
  readonly id: number;
  readonly stage: Stage;
  readonly begunAtMs: number;
  readonly simulated: boolean;
  readonly taker: Taker;
  readonly nudgesSkipped: ('y' | 'x')[];
  /** What was taken off the arrival of its readings when they were given their places, ms. */
  readonly pairedWithLagMs: number;
  readonly #noticed: Caution[] = [];
  #state: SweepSection['state'] = 'being taken';
  #result: SweepResult | null = null;
  #digitMm: number | null = null;
  #under: MeasuredUnder | null = null;
  #noResultYet = 'Nothing has been taken yet.';

  constructor(
    id: number,
    stage: Stage,
    begunAtMs: number,
    setup: Setup,
    simulated: boolean,
    nudgesSkipped: ('y' | 'x')[],
  ) {
    this.id = id;
    this.stage = stage;
    this.begunAtMs = begunAtMs;
    this.simulated = simulated;
    this.nudgesSkipped = nudgesSkipped;
    this.taker = takerFor(setup);
    this.pairedWithLagMs = lagOf(setup);
  }

  get isBeingTaken(): boolean {
    return this.#state === 'being taken';
  }

  /** What is to be taken next, while it is being taken. */
  takenNow(): NonNullable<JobFacts['sweeping']> {
    const { taker } = this;
    return {
      nextStation: taker instanceof StationTaker ? taker.next : null,
      feedRunning: taker instanceof FeedTaker && taker.isRunning,
    };
  }

  get noResultYet(): string {
    return this.#noResultYet;
  }

  get result(): SweepResult | null {
    return this.#result;
  }

  /** One step of the last digit it was read with, mm; null: not known. */
  get digitMm(): number | null {
    return this.#digitMm;
  }

  /** Something happened while it was taken that makes its line doubtful. */
  notice(caution: Caution): void {
    if (this.#noticed.length < MOST_NOTICED) this.#noticed.push(caution);
  }

  /** @param setup what it was measured under is kept with it. */
  end(setup: Setup): void {
    this.#state = 'ended';
    this.#under = measuredUnder(setup);
  }

  /** What it was measured under; null: it is still being taken. */
  get under(): MeasuredUnder | null {
    return this.#under;
  }

  /** The setup it is judged by: what it was measured under, whatever was set since. */
  setupOf(setup: Setup): Setup {
    return asMeasured(setup, this.#under);
  }

  /** A replay tries what it would have said under another setup. */
  tryUnder(change: Partial<MeasuredUnder>): void {
    if (this.#under) this.#under = { ...this.#under, ...change };
  }

  /**
   * Judges what was taken so far by this setup and pivot. `digitMm` is one step of the last digit shown now;
   * an ended sweep keeps the one it was read with.
   */
  judge(setup: Setup, pivot: PivotInUse, digitMm: number | null, isNeedleSeen: boolean): void {
    if (this.isBeingTaken) this.#digitMm = digitMm;
    const { taker } = this;
    const by = this.setupOf(setup);
    const passes = taker.passes();
    const noticed = [...this.#noticed, ...this.#howTaken(by, passes)];
    if (!isNeedleSeen && setup.entry === 'device' && stoodStill(passes)) noticed.push(NEVER_MOVED);
    const judged = judgeSweep(
      sweepInputOf(by, passes, taker.pointsAre, pivot, this.#digitMm, this.stage, noticed),
    );
    if (judged.ok) {
      const { result } = judged;
      const strike = malletWords(pivot, setup);
      const byMallet = strike === '' ? [] : [{ code: 'strike-other-end', text: strike }];
      this.#result = { ...result, cautions: [...result.cautions, ...byMallet] };
      this.#noResultYet = '';
      return;
    }
    this.#result = null;
    const { what, got, remedy, code } = judged.noLine;
    this.#noResultYet =
      this.taker instanceof FeedTaker && this.taker.isRunning
        ? 'The line is drawn when the last mark is set.'
        : faultLine({ what, got, remedy, code });
  }

  /** What is said of the way it was taken, once it is over: a hand on its way is not hurried yet. */
  #howTaken({ displayUnit }: Setup, passes: readonly TakenPass[]): Caution[] {
    const { taker } = this;
    const said: Caution[] = [];
    const tookMs = taker instanceof FeedTaker ? taker.tookMs : null;
    const length = lengthOf(passes[0]);
    const hurry = tookMs === null ? null : hurried(length, tookMs, displayUnit);
    if (hurry) said.push(hurry);
    return said;
  }

  /** `since`: what happened after it ended, as the section has it. */
  section(since: Pick<SweepSection, 'outdated' | 'zeroMoved'>): SweepSection {
    const { taker } = this;
    return {
      id: this.id,
      state: this.#state,
      stage: this.stage,
      simulated: this.simulated,
      pass: taker.pass,
      points: this.drawn(),
      samples: taker.samples,
      pairsRefused: taker.pairsRefused,
      nextStation: taker instanceof StationTaker && this.isBeingTaken ? taker.next : null,
      feedRunning: taker instanceof FeedTaker && taker.isRunning,
      nudgesSkipped: this.nudgesSkipped,
      result: this.#result,
      noResultYet: this.#noResultYet,
      ...since,
    };
  }

  /** What a screen draws of it. */
  drawn(): DrawnPoint[] {
    const drawn = this.taker
      .passes()
      .flatMap(
        ({ pass, points }: { pass: PassName; points: readonly Omit<DrawnPoint, 'pass'>[] }) =>
          points.map(({ xMm, readingMm, samples }) => ({ xMm, readingMm, pass, samples })),
      );
    return drawn.slice(0, MOST_DRAWN);
  }
}

/** Coarse dials stand still over a true bar, frozen ones over any: that is asked, not refused. */
const NEVER_MOVED: Caution = {
  code: 'needle-never-moved',
  text: 'The needle did not move by one digit over the whole sweep: the bar is that true, or the indicator is frozen, or its stylus is off the work. Lift the stylus once and let it come back; until then it is not called true.',
};

function stoodStill(passes: readonly TakenPass[]): boolean {
  const readings = passes.flatMap(({ points }) => points.map(({ readingMm }) => readingMm));
  return readings.length > 2 && Math.max(...readings) - Math.min(...readings) < SAME_READING_MM;
}

function lengthOf(pass: TakenPass | undefined): number {
  const places = pass?.points.map(({ xMm }) => xMm) ?? [];
  return places.length === 0 ? 0 : Math.max(...places) - Math.min(...places);
}
