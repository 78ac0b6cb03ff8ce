import { MM_PER_INCH, type Stage } from '@taptrue/protocol';
import { BAR_LENGTH_MM } from '@taptrue/simulators/bench-build.ts';
import { readIndicator } from '@taptrue/simulators/indicator.ts';
import { Dice } from '@taptrue/simulators/random.ts';
import { type Blow, clamp, strike, surfaceMm, trueSlope } from '@taptrue/simulators/vise.ts';
import type { DrawnBench } from './drawn-bench.ts';

const THOU_MM = MM_PER_INCH / 1000;
/** A hand stops when the needle is this near its mark: two divisions of a tenth of a thou. */
const NEAR_ENOUGH_MM = 0.2 * THOU_MM;
const PATIENCE_BLOWS = 25;
/** Blows after which a needle that has not come a third of the way makes anyone stop and sweep again. */
const DOUBTS_AFTER_BLOWS = 8;
const NOTHING_MOVED_MM = 0.1 * THOU_MM;
const IDLE_BEFORE_OTHER_END = 6;
const BLOWS: readonly Blow[] = ['light', 'medium', 'firm'];
/** The cheeks of the vise. */
export const MALLET_MM = { left: -20, right: 147 } as const;

/** The same hand for every method: it sweeps, parks, and taps until the needle is at a mark. */
export class HandAtBench {
  sweeps = 0;
  blows = 0;
  readonly #bench: DrawnBench;
  readonly #dice: Dice;
  #vise;
  #gauge = { zeroMm: 0, heldMm: null as number | null };
  #atMs = 0;

  constructor(bench: DrawnBench) {
    this.#bench = bench;
    this.#vise = bench.build.startsAt;
    this.#dice = new Dice(bench.seed + 77_777);
  }

  get endToEndMm(): number {
    return trueSlope(this.#vise) * BAR_LENGTH_MM;
  }

  clampTo(stage: Stage): void {
    this.#vise = clamp(this.#bench.build.vise, this.#vise, stage, this.#dice);
  }

  /** The dial with the stylus at x; a look takes a fifth of a second. */
  readMm(xMm: number): number {
    this.#atMs += 200;
    const { vise, indicator } = this.#bench.build;
    const surface = surfaceMm(vise, this.#vise, xMm);
    const shown = readIndicator(indicator, this.#gauge, surface, this.#atMs, this.#dice);
    this.#gauge = shown.state;
    if (shown.shownMm === null) throw new Error(`nothing under the stylus at ${xMm}`);
    return shown.shownMm;
  }

  /** One traverse from end to end, read at equal steps. */
  sweep(fromMm: number, toMm: number, count: number): { xMm: number; readingMm: number }[] {
    this.sweeps += 1;
    return Array.from({ length: count }, (_, index) => {
      const xMm = fromMm + ((toMm - fromMm) * index) / (count - 1);
      return { xMm, readingMm: this.readMm(xMm) };
    });
  }

  /**
   * Taps until the parked dial shows the mark, or patience ends. The dial rises toward the operator. Where
   * nothing moves the hand strikes harder, and where the hardest moves nothing, at the vise's other end; a
   * needle that runs off from the mark makes it strike the other way.
   */
  tapTo(markMm: number, stylusMm: number, malletMm: number, believedPivotMm: number): void {
    let strikesAtMm = malletMm;
    let idle = 0;
    // Which way a blow must go is believed from the pivot; a needle that runs off says otherwise.
    let sameSide = (stylusMm - believedPivotMm) * (strikesAtMm - believedPivotMm) > 0;
    let shownMm = this.readMm(stylusMm);
    const firstMm = Math.abs(markMm - shownMm);
    for (let blow = 0; blow < PATIENCE_BLOWS; blow += 1) {
      const wantedMm = markMm - shownMm;
      if (Math.abs(wantedMm) <= NEAR_ENOUGH_MM) return;
      if (blow === DOUBTS_AFTER_BLOWS && Math.abs(wantedMm) > (2 / 3) * firstMm) return;
      if (idle >= IDLE_BEFORE_OTHER_END) {
        strikesAtMm = strikesAtMm === MALLET_MM.left ? MALLET_MM.right : MALLET_MM.left;
        sameSide = (stylusMm - believedPivotMm) * (strikesAtMm - believedPivotMm) > 0;
        idle = 0;
      }
      const way = wantedMm > 0 === sameSide ? 'toward' : 'away';
      const usual = Math.abs(wantedMm) > 0.2 ? 2 : Math.abs(wantedMm) > 0.06 ? 1 : 0;
      const strength = BLOWS[Math.min(2, usual + Math.floor(idle / 2))]!;
      this.blows += 1;
      const hit = { xMm: strikesAtMm, way, strength } as const;
      this.#vise = strike(this.#bench.build.vise, this.#vise, hit, this.#dice).state;
      const nowMm = this.readMm(stylusMm);
      idle = Math.abs(nowMm - shownMm) < NOTHING_MOVED_MM ? idle + 1 : 0;
      const leftMm = markMm - nowMm;
      const ranOff = Math.abs(leftMm) > Math.abs(wantedMm) + NOTHING_MOVED_MM;
      if (ranOff && leftMm * wantedMm > 0) sameSide = !sameSide;
      shownMm = nowMm;
    }
  }
}
