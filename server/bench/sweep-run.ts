import {
  type Caution,
  type DrawnPoint,
  faultLine,
  lagOf,
  type PassName,
  type Setup,
  type Stage,
  type SweepResult,
  type SweepSection,
} from '@taptrue/protocol';
import { judgeSweep } from '../measure/verdict/judge-sweep.ts';
import { FeedTaker } from './feed-samples.ts';
import type { PivotInUse } from './pivot-in-use.ts';
import { malletWords } from './pivot-words.ts';
import { ReadoutTaker } from './readout-samples.ts';
import type { Taker } from './sample-sources.ts';
import { StationTaker } from './station-samples.ts';
import { sweepInputOf } from './sweep-input-of.ts';

/** Points sent to a screen: both passes of 128 bins. */
const MOST_DRAWN = 256;
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

  end(): void {
    this.#state = 'ended';
  }

  /**
   * Judges what was taken so far by this setup and pivot. `digitMm` is one step of the last digit shown now;
   * an ended sweep keeps the one it was read with.
   */
  judge(setup: Setup, pivot: PivotInUse, digitMm: number | null): void {
    if (this.isBeingTaken) this.#digitMm = digitMm;
    const { taker } = this;
    const judged = judgeSweep(
      sweepInputOf(setup, taker.passes(), taker.pointsAre, pivot, this.#digitMm, this.stage),
    );
    if (judged.ok) {
      const { result } = judged;
      const strike = malletWords(pivot, setup);
      const byMallet = strike === '' ? [] : [{ code: 'strike-other-end', text: strike }];
      this.#result = { ...result, cautions: [...result.cautions, ...byMallet, ...this.#noticed] };
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
