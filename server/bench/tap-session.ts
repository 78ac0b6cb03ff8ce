import {
  arcsecFromRadians,
  type Fault,
  formatLength,
  radiansFromArcsec,
  type Setup,
  type SweepResult,
  type TapSection,
  type TapStep,
} from '@taptrue/protocol';
import { aimedOffRad, aimedOffWords } from '../measure/verdict/aim-off.ts';
import {
  remainingAtMalletMm,
  remainingTurnRad,
  slopeNow,
  stopBandMm,
} from '../measure/verdict/live-tap.ts';
import { surfaceFromReading } from '../measure/verdict/surface.ts';
import {
  isCoarseTap,
  malletAtPivot,
  parkedTooNear,
  tapAdvice,
  tapToReadingMm,
} from '../measure/verdict/tap.ts';
import { tapSentence } from '../measure/verdict/words.ts';
import { SettleWatch } from './settle-watch.ts';
import { stylusFactorOf } from './sweep-input-of.ts';
import { PARKED_DIFFERS_MM, type Parking } from './taps-since.ts';

/** Taps shown; a machinist who needs forty has another problem. Older ones stay on the record. */
const MOST_STEPS = 40;

/**
 * Back from a break of the link, a needle within this of where it was is where it was, mm: two counts of a
 * display that counts by 0.00005 in. A coarser display or a noisy one has the tolerance of its own rest.
 */
const BACK_WITHIN_MM = 0.003;

/** After this many taps more than half must be done, or the vise turns about another place than reckoned with. */
const TAPS_TO_HALF = 8;

export interface TapQuestion {
  sweepId: number;
  /** With the line as it lies now: as swept, or as the taps since left it. */
  result: SweepResult;
  isByTaps: boolean;
  setup: Setup;
  /** Slope to tap to: the target, or beside it where the user aims off. */
  tapToSlope: number;
  pivotMm: number;
  /** Where the mallet strikes. */
  malletMm: number;
  parkedAtMm: number;
  parkedReadingMm: number;
  /** One step of the last digit shown, mm. */
  digitMm: number;
}

/**
 * The mallet's moment: the stylus is parked, every reading says what remains. Pure but for what it
 * remembers: time comes with the readings.
 */
export class TapSession {
  readonly #question: TapQuestion;
  #settle: SettleWatch;
  readonly #firstRemainingRad: number;
  readonly #tapToReadingMm: number;
  readonly #band: { lowMm: number; highMm: number } | null;
  #readingMm: number | null;
  #restMm: number;
  /** What the needle showed before the link broke; null: the link holds, or the needle is back. */
  #lostAtMm: number | null = null;
  /** Where it was and where it is since a break of the link; null: it came back to the same place. */
  #backElsewhere: { fromMm: number; toMm: number } | null = null;
  #steps: TapStep[] = [];
  #stepNumber = 0;

  /** Refused, with the reason, where the needle could not show the turn or no blow could make it. */
  static park(
    question: TapQuestion,
  ): { ok: true; session: TapSession } | { ok: false; fault: Fault } {
    const { setup, result, pivotMm, parkedAtMm } = question;
    const refused =
      parkedTooNear(parkedAtMm, pivotMm, result.lengthMm, setup.displayUnit) ??
      malletAtPivot(question.malletMm, pivotMm, setup.displayUnit);
    if (refused) return { ok: false, fault: refused };
    const tapToMm = tapToReadingMm({
      slope: result.slope,
      heightAtPivotMm: result.interceptMm + result.slope * pivotMm,
      target: question.tapToSlope,
      pivotMm,
      acrossMm: setup.pivot.acrossMm,
      parked: { xMm: parkedAtMm, readingMm: question.parkedReadingMm },
      rises: setup.rises,
      stylusFactor: stylusFactorOf(setup),
    });
    if (tapToMm === null || setup.rises === null) {
      return {
        ok: false,
        fault: {
          code: 'sense-not-known',
          what: 'It is not known yet whether the reading rises toward you or away from you.',
          got: '',
          remedy: 'Do the saddle nudge, or set the sense in the setup. Then park the stylus again.',
        },
      };
    }
    return { ok: true, session: new TapSession(question, tapToMm) };
  }

  private constructor(question: TapQuestion, tapToMm: number) {
    this.#question = question;
    this.#tapToReadingMm = tapToMm;
    this.#settle = new SettleWatch(question.digitMm);
    this.#readingMm = question.parkedReadingMm;
    this.#restMm = question.parkedReadingMm;
    const { setup, result } = question;
    this.#firstRemainingRad = remainingTurnRad(result.slope, question.tapToSlope);
    this.#band =
      result.limitArcsec === null
        ? null
        : stopBandMm({
            slope: result.slope,
            target: question.tapToSlope,
            limitRad: radiansFromArcsec(result.limitArcsec),
            parkedXMm: question.parkedAtMm,
            parkedReadingMm: question.parkedReadingMm,
            pivotMm: question.pivotMm,
            acrossMm: setup.pivot.acrossMm,
            rises: setup.rises,
            stylusFactor: stylusFactorOf(setup),
          });
  }

  /** A reading of the stream; a step where the needle came to rest elsewhere. */
  reading(readingMm: number, atMs: number): TapStep | null {
    this.#readingMm = readingMm;
    const step = this.#settle.push(readingMm, atMs);
    return step ? this.#noteStep(step.beforeMm, step.afterMm) : null;
  }

  /** A reading typed, or sent by the device's key, after a tap. */
  single(readingMm: number): TapStep {
    this.#readingMm = readingMm;
    return this.#noteStep(this.#restMm, readingMm);
  }

  /** Goes on from a session of the same parking that was reckoned by another setup. */
  takeOver(before: TapSession): void {
    this.#readingMm = before.#readingMm;
    this.#restMm = before.#restMm;
    this.#lostAtMm = before.#lostAtMm;
    this.#backElsewhere = before.#backElsewhere;
  }

  /** The table was moved: the needle's last rest before that is what the mallet left. */
  backTo(restMm: number): void {
    this.#restMm = restMm;
  }

  get parking(): Parking {
    const { parkedAtMm, parkedReadingMm, pivotMm } = this.#question;
    return { parkedAtMm, parkedReadingMm, restMm: this.#restMm, pivotMm };
  }

  /** The link broke, and the needle is not back, or not back where it was. */
  get isZeroInDoubt(): boolean {
    return this.#lostAtMm !== null || this.#backElsewhere !== null;
  }

  disconnected(): void {
    this.#lostAtMm ??= this.#readingMm ?? this.#restMm;
    this.#readingMm = null;
  }

  /**
   * The first reading after a break of the link. True where the needle is not where it was: that change is no
   * tap, it may be a new zero.
   */
  isBackElsewhere(readingMm: number): boolean {
    const fromMm = this.#lostAtMm;
    if (fromMm === null) return false;
    this.#lostAtMm = null;
    const withinMm = Math.max(BACK_WITHIN_MM, this.#settle.toleranceMm);
    if (Math.abs(readingMm - fromMm) <= withinMm) return false;
    this.#backElsewhere = { fromMm: this.#backElsewhere?.fromMm ?? fromMm, toMm: readingMm };
    this.#settle = new SettleWatch(this.#question.digitMm);
    this.#readingMm = readingMm;
    this.#restMm = readingMm;
    return true;
  }

  /** The device said something that is not a number. */
  noReading(): void {
    this.#readingMm = null;
  }

  section(): TapSection {
    const { sweepId, parkedAtMm, parkedReadingMm } = this.#question;
    const remaining = this.#readingMm === null ? null : this.#remaining(this.#readingMm);
    const standing = remaining === null ? 'no reading' : this.#standing(this.#readingMm!);
    return {
      sweepId,
      parkedAtMm,
      parkedReadingMm,
      tapToReadingMm: this.#tapToReadingMm,
      stopBandMm: this.#band,
      readingMm: this.#readingMm,
      remainingArcsec: remaining === null ? null : arcsecFromRadians(remaining.turnRad),
      remainingAtMalletMm: remaining?.atMalletMm ?? null,
      standing,
      sentence: this.#sentence(standing),
      sweepAgain: this.#sweepAgain(),
      steps: [...this.#steps],
    };
  }

  #slopeAt(readingMm: number): number {
    const { setup, result, parkedReadingMm, parkedAtMm, pivotMm } = this.#question;
    const height = (mm: number) => surfaceFromReading(mm, setup.rises, stylusFactorOf(setup));
    return slopeNow(result.slope, height(readingMm), height(parkedReadingMm), parkedAtMm, pivotMm);
  }

  #remaining(readingMm: number): { turnRad: number; atMalletMm: number } {
    const { malletMm, pivotMm, tapToSlope } = this.#question;
    const slope = this.#slopeAt(readingMm);
    return {
      turnRad: remainingTurnRad(slope, tapToSlope),
      atMalletMm: remainingAtMalletMm(slope, tapToSlope, malletMm, pivotMm),
    };
  }

  #isInside(readingMm: number): boolean {
    if (this.#band) return readingMm >= this.#band.lowMm && readingMm <= this.#band.highMm;
    return Math.abs(readingMm - this.#tapToReadingMm) <= this.#question.digitMm;
  }

  #standing(readingMm: number): 'keep tapping' | 'stop' | 'past' {
    if (this.#isInside(readingMm)) return 'stop';
    const { turnRad } = this.#remaining(readingMm);
    return turnRad * this.#firstRemainingRad < 0 ? 'past' : 'keep tapping';
  }

  #noteStep(beforeMm: number, afterMm: number): TapStep {
    const before = this.#remaining(beforeMm);
    const after = this.#remaining(afterMm);
    this.#stepNumber += 1;
    this.#restMm = afterMm;
    const step: TapStep = {
      number: this.#stepNumber,
      beforeMm,
      afterMm,
      turnedArcsec: arcsecFromRadians(before.turnRad - after.turnRad),
      atMalletMm: before.atMalletMm - after.atMalletMm,
      effect: this.#effect(beforeMm, afterMm),
    };
    this.#steps.push(step);
    if (this.#steps.length > MOST_STEPS) this.#steps.shift();
    return step;
  }

  #effect(beforeMm: number, afterMm: number): TapStep['effect'] {
    if (Math.abs(afterMm - beforeMm) < this.#question.digitMm) return 'nothing moved';
    const before = this.#remaining(beforeMm).turnRad;
    const after = this.#remaining(afterMm).turnRad;
    if (before * after < 0 && !this.#isInside(afterMm)) return 'past';
    return Math.abs(after) < Math.abs(before) ? 'closer' : 'farther';
  }

  #sentence(standing: TapSection['standing']): string {
    const { setup, pivotMm, tapToSlope } = this.#question;
    const unit = setup.displayUnit;
    const aimed = aimedOffWords(aimedOffRad(setup.targetSlope, tapToSlope));
    switch (standing) {
      case 'no reading':
        return 'No reading. Hold the mallet until the needle is back.';
      case 'stop':
        return aimed === ''
          ? 'Stop. The needle rests inside the limit. Sweep again to prove it.'
          : `Stop. The needle rests where you aim. ${aimed} Sweep again to prove it.`;
      case 'past':
      case 'keep tapping': {
        const last = this.#steps.at(-1);
        if (last?.effect === 'farther')
          return `Stop: the last tap went the wrong way, from ${formatLength(last.beforeMm, unit, { plus: true })} to ${formatLength(last.afterMm, unit, { plus: true })}. Check the side that was struck, the sense of the indicator and which way the saddle went in its nudge; then sweep again.`;
        const advice = tapAdvice(
          this.#slopeAt(this.#readingMm!),
          tapToSlope,
          pivotMm,
          this.#question.malletMm,
          setup.axis,
        );
        const words = [tapSentence(advice, this.#tapToReadingMm, unit) ?? 'Sweep again.', aimed]
          .filter((text) => text !== '')
          .join(' ');
        return standing === 'past' ? `Past it. ${words}` : words;
      }
    }
  }

  #sweepAgain(): string {
    const byTaps = this.#question.isByTaps
      ? 'Reckoned on from the taps since the last sweep: a new sweep is surer.'
      : '';
    return [this.#doubt(), byTaps].filter((text) => text !== '').join(' ');
  }

  /** What speaks against the figures, the gravest only; empty: nothing. */
  #doubt(): string {
    const { setup, result, parkedAtMm, parkedReadingMm, pivotMm } = this.#question;
    const unit = setup.displayUnit;
    if (this.#backElsewhere) {
      const { fromMm, toMm } = this.#backElsewhere;
      const [from, to] = [fromMm, toMm].map((mm) => formatLength(mm, unit, { plus: true }));
      return `The indicator was disconnected at ${from} and came back at ${to}: its zero may have moved, and what remains is reckoned as if it had not. Sweep again, or park anew if nothing was tapped yet.`;
    }
    const heightMm = surfaceFromReading(parkedReadingMm, setup.rises, stylusFactorOf(setup));
    const offMm = heightMm - (result.interceptMm + result.slope * parkedAtMm);
    if (Math.abs(offMm) > PARKED_DIFFERS_MM) {
      return `The reading here is ${formatLength(Math.abs(offMm), unit)} from what the sweep${this.#question.isByTaps ? ' and the taps since' : ''} found: the indicator was zeroed or moved, the vise has moved since, or the stylus is not where it was said. The stop reading is reckoned from what the dial shows now; if the vise has moved, sweep again first.`;
    }
    if (this.#bringsLittle()) {
      return `${this.#stepNumber} taps brought little: the needle hardly follows the blows, so the pivot is probably not where it is said. Stop and sweep again; if it still lies out, strike at the other end.`;
    }
    const coarse =
      result.limitArcsec !== null &&
      setup.pivot.acrossMm === null &&
      isCoarseTap(
        result.slope,
        this.#question.tapToSlope,
        radiansFromArcsec(result.limitArcsec),
        parkedAtMm - pivotMm,
      );
    return coarse ? 'This is a coarse tap: sweep again after it and tap once more.' : '';
  }

  /** Many taps, and less than half of the way done. */
  #bringsLittle(): boolean {
    if (this.#stepNumber < TAPS_TO_HALF || this.#isInside(this.#restMm)) return false;
    const { turnRad } = this.#remaining(this.#restMm);
    return Math.abs(turnRad) > Math.abs(this.#firstRemainingRad) / 2;
  }
}
