import type { PassName } from '@taptrue/protocol';
import type { SweepPass, SweepPoint } from '../verdict/sweep-input.ts';
import { type BinnedPoint, type BinOptions, PositionBins } from './bins.ts';

/**
 * How far the stylus must come back before it counts as turned round: a twentieth of the way travelled so
 * far, so that a hand that overshoots a little and corrects does not end the pass...
 */
export const REVERSAL_FRACTION = 0.05;

/** ...and at least this, mm: a trembling readout and the slack of a handwheel stay below it. */
export const LEAST_REVERSAL_MM = 1;

export interface BinnedPass extends SweepPass {
  pass: PassName;
  /** In the order the stylus passed them. */
  points: readonly BinnedPoint[];
}

export type Followed = 'taken' | 'turned' | 'ended' | 'refused';

/**
 * Follows a live readout out and back. A readout that turns round starts the pass back; a second turn ends
 * the sweep, and nothing is added after it. Samples taken since the farthest point wait in bins of their
 * own: if the stylus goes on they belong to the pass, if it had turned they belong to the next, so that no
 * reading taken on the way back, with its lag, is mixed into the way out.
 */
export class PassFollower {
  readonly #options: BinOptions;
  #current: PositionBins;
  #waiting: PositionBins;
  readonly #finished: BinnedPass[] = [];
  #direction: 1 | -1 | 0 = 0;
  #farthestMm = Number.NaN;
  #passFromMm = Number.NaN;
  #state: PassName | 'ended' = 'out';
  #start: SweepPoint | null = null;
  #samples = 0;
  #refused = 0;

  constructor(options: BinOptions = {}) {
    this.#options = options;
    this.#current = new PositionBins(options);
    this.#waiting = new PositionBins(options);
  }

  get state(): PassName | 'ended' {
    return this.#state;
  }

  /** Where the first sample was taken and what it read: what the return is compared with. */
  get start(): SweepPoint | null {
    return this.#start;
  }

  /** Samples taken in over both passes. */
  get samples(): number {
    return this.#samples;
  }

  /** Samples that were not numbers or came after the end. */
  get refused(): number {
    return this.#refused;
  }

  add(xMm: number, readingMm: number): Followed {
    if (this.#state === 'ended') {
      this.#refused += 1;
      return 'ended';
    }
    const direction = this.#direction;
    const goesOn = direction === 0 || direction * (xMm - this.#farthestMm) >= 0;
    if (!(goesOn ? this.#current : this.#waiting).add(xMm, readingMm)) {
      this.#refused += 1;
      return 'refused';
    }
    this.#samples += 1;
    if (this.#start === null) {
      this.#start = { xMm, readingMm };
      this.#passFromMm = xMm;
      this.#farthestMm = xMm;
      return 'taken';
    }
    if (direction === 0) {
      if (Math.abs(xMm - this.#passFromMm) < LEAST_REVERSAL_MM) return 'taken';
      this.#direction = xMm > this.#passFromMm ? 1 : -1;
      this.#farthestMm = xMm;
      return 'taken';
    }
    if (goesOn) {
      this.#farthestMm = xMm;
      this.#takeWaiting();
      return 'taken';
    }
    const backMm = direction * (this.#farthestMm - xMm);
    const spanMm = Math.abs(this.#farthestMm - this.#passFromMm);
    if (backMm < Math.max(LEAST_REVERSAL_MM, REVERSAL_FRACTION * spanMm)) return 'taken';
    return this.#turn(xMm);
  }

  /** What was taken, one or two passes. */
  passes(): BinnedPass[] {
    if (this.#state === 'ended') return [...this.#finished];
    const whole = new PositionBins({ ...this.#options, firstStepMm: this.#current.stepMm });
    whole.merge(this.#current.points());
    whole.merge(this.#waiting.points());
    const now = this.#named(this.#state, whole.points());
    return now.points.length > 0 ? [...this.#finished, now] : [...this.#finished];
  }

  #named(pass: PassName, inOrderOfPosition: BinnedPoint[]): BinnedPass {
    return {
      pass,
      points: this.#direction < 0 ? inOrderOfPosition.reverse() : inOrderOfPosition,
    };
  }

  #takeWaiting(): void {
    if (this.#waiting.samples === 0) return;
    this.#current.merge(this.#waiting.points());
    this.#waiting = new PositionBins(this.#options);
  }

  #turn(xMm: number): Followed {
    const endsNow = this.#state === 'back';
    this.#finished.push(this.#named(endsNow ? 'back' : 'out', this.#current.points()));
    if (endsNow) {
      this.#samples -= this.#waiting.samples;
      this.#refused += this.#waiting.samples;
      this.#state = 'ended';
      return 'ended';
    }
    this.#current = this.#waiting;
    this.#waiting = new PositionBins(this.#options);
    this.#passFromMm = this.#farthestMm;
    this.#direction = this.#direction === 1 ? -1 : 1;
    this.#farthestMm = xMm;
    this.#state = 'back';
    return 'turned';
  }
}
