import { type Answer, slopeToTapTo } from '@taptrue/protocol';
import { DONE, refused } from '../state/answers.ts';
import type { DeskContext } from './desk.ts';
import type { Measuring, TypedIn } from './measuring.ts';
import { nothingToTapBy, notParked, sweepBeingTaken } from './refusals.ts';
import type { LastSweep } from './since-sweep.ts';
import type { SweepDesk } from './sweep-desk.ts';
import { TapSession } from './tap-session.ts';
import {
  lineAfter,
  NO_TAPS,
  notByTheTaps,
  spoiledBy,
  type TapsSince,
  withParking,
} from './taps-since.ts';

/** The parked stylus and the mallet: one session at a time, by the last sweep. */
export class TapDesk {
  readonly #context: DeskContext;
  readonly #measuring: Measuring;
  readonly #sweeps: SweepDesk;
  #session: TapSession | null = null;
  /** Before the stylus was parked where it stands. */
  #since: TapsSince = NO_TAPS;

  constructor(context: DeskContext, measuring: Measuring, sweeps: SweepDesk) {
    this.#context = context;
    this.#measuring = measuring;
    this.#sweeps = sweeps;
  }

  get isParked(): boolean {
    return this.#session !== null;
  }

  park(xMm: number, typed: TypedIn, nowMs: number): Answer {
    if (this.#sweeps.isSweeping) return refused(sweepBeingTaken());
    const last = this.#sweeps.last;
    if (!last) return refused(nothingToTapBy());
    const reading = this.#measuring.indicator(typed, nowMs);
    if (!reading.ok) return refused(reading.fault);
    const since = last.tappedSince ? this.#sinceNow() : NO_TAPS;
    const fault = notByTheTaps(since, xMm, reading.mm, this.#context.setup);
    if (fault) return refused(fault);
    const parked = this.#parkAt(last, since, xMm, reading.mm);
    if (!parked.ok) return refused(parked.fault);
    this.#since = since;
    this.#session = parked.session;
    this.#tell();
    this.#context.standingChanged();
    return DONE;
  }

  /**
   * A stop reading reckoned by the old setup would be wrong by the new one: it is reckoned anew from the same
   * parking. Where the new setup refuses that, the stylus counts as not parked.
   */
  setupChanged(): void {
    const { last } = this.#sweeps;
    if (!this.#session) return;
    const { parkedAtMm, parkedReadingMm } = this.#session.parking;
    const parked = last && this.#parkAt(last, this.#since, parkedAtMm, parkedReadingMm);
    if (!parked?.ok) {
      this.leave();
      return;
    }
    parked.session.takeOver(this.#session);
    this.#session = parked.session;
    this.#tell();
  }

  /** Keyed entry: the reading after a tap. */
  keyed(typed: TypedIn & { keyed: string }, nowMs: number): Answer {
    if (!this.#session) return refused(notParked(typed.keyed));
    const reading = this.#measuring.indicator(typed, nowMs);
    if (!reading.ok) return refused(reading.fault);
    this.#note(this.#session.single(reading.mm), nowMs);
    this.#tell();
    return DONE;
  }

  indicator(readingMm: number, atMs: number, byKey: boolean): void {
    if (!this.#session) return;
    if (this.#session.isBackElsewhere(readingMm)) {
      this.#tell();
      return;
    }
    const step = byKey ? this.#session.single(readingMm) : this.#session.reading(readingMm, atMs);
    if (step) this.#note(step, atMs);
    this.#tell();
  }

  noReading(): void {
    if (!this.#session) return;
    this.#session.noReading();
    this.#tell();
  }

  /** The zero is not known from here on, until the needle is back where it was. */
  disconnected(): void {
    if (!this.#session) {
      this.spoil('the indicator was disconnected');
      return;
    }
    this.#session.disconnected();
    this.#tell();
  }

  /** From here on the needle no longer tells how the taps left the vise. */
  spoil(why: string): void {
    this.#since = spoiledBy(this.#since, why);
  }

  leave(): void {
    if (!this.#session) return;
    this.#since = this.#sinceNow();
    this.#session = null;
    this.#tell();
    this.#context.standingChanged();
  }

  /** With the parking that may be going on. */
  #sinceNow(): TapsSince {
    if (!this.#session) return this.#since;
    const since = withParking(this.#since, this.#session.parking);
    return this.#session.isZeroInDoubt ? spoiledBy(since, 'the indicator was disconnected') : since;
  }

  #parkAt(last: LastSweep, since: TapsSince, xMm: number, readingMm: number) {
    const { setup, stage } = this.#context;
    return TapSession.park({
      sweepId: last.run.id,
      result: { ...last.result, ...lineAfter(last.result, since, setup) },
      isByTaps: since.parkings.length > 0,
      setup,
      tapToSlope: slopeToTapTo(setup, stage),
      pivotMm: this.#sweeps.pivotMm,
      parkedAtMm: xMm,
      parkedReadingMm: readingMm,
      digitMm: this.#context.digitMm ?? 0,
    });
  }

  #note(step: ReturnType<TapSession['single']>, atMs: number): void {
    const { last } = this.#sweeps;
    if (last) this.#context.record({ entry: 'tap step', atMs, sweep: last.run.id, step });
    if (step.effect === 'nothing moved') return;
    this.#sweeps.tapped();
    this.#context.standingChanged();
  }

  #tell(): void {
    this.#context.store.set('tap', this.#session?.section() ?? null);
  }
}
