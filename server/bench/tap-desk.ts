import { type Answer, type Fault, slopeToTapTo, type TapStep } from '@taptrue/protocol';
import { isLineOfTheBar } from '../measure/verdict/judge-sweep.ts';
import { DONE, refused } from '../state/answers.ts';
import { beyondTheBar } from './beyond-the-bar.ts';
import type { DeskContext } from './desk.ts';
import type { Measuring, TypedIn } from './measuring.ts';
import {
  jumpedWhileParked,
  movedWhileParked,
  noLineToTapBy,
  nothingToTapBy,
  notParked,
  parkedElsewhere,
  sweepBeingTaken,
  sweepVoid,
  zeroedOrTapped,
} from './refusals.ts';
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

/** A place may be said this far beside the readout's, mm: a scribed station is found to half a millimetre. */
const SAID_WITHIN_MM = 1;
/** Farther than this the table was moved, mm: a blow shakes a scale by hundredths. */
const MOVED_MM = 0.2;
/** Within this the table stands, mm: a scale's count and its noise stay below. */
const STANDS_WITHIN_MM = 0.05;
/** Readings in a row that show the table elsewhere; a single one may be a wild one. */
const MOVED_READINGS = 2;
/** A soft mallet moves a nipped vise by tenths of this at the stylus, mm; a preset or a zero key by any amount. */
const MOST_OF_A_BLOW_MM = 0.8;
/** A step waits this long for the readout to show that the table stood, ms; a silent readout tells nothing. */
const STANDS_SHOWN_WITHIN_MS = 500;
/** Steps waiting for it: each takes 150 ms to settle, so no more come in that time. */
const MOST_WAITING = 8;

/** The parked stylus and the mallet: one session at a time, by the last sweep. */
export class TapDesk {
  readonly #context: DeskContext;
  readonly #measuring: Measuring;
  readonly #sweeps: SweepDesk;
  #session: TapSession | null = null;
  /** Before the stylus was parked where it stands. */
  #since: TapsSince = NO_TAPS;
  /** Where the readout said the stylus stood at parking, by its own count; null: no readout told. */
  #countedAtMm: number | null = null;
  #movedReadings = 0;
  /** Steps not yet known to be taps: a moved table makes such steps too. */
  #waiting: { step: TapStep; atMs: number }[] = [];

  constructor(context: DeskContext, measuring: Measuring, sweeps: SweepDesk) {
    this.#context = context;
    this.#measuring = measuring;
    this.#sweeps = sweeps;
  }

  get isParked(): boolean {
    return this.#session !== null;
  }

  park(saidMm: number, typed: TypedIn, nowMs: number): Answer {
    if (this.#sweeps.isSweeping) return refused(sweepBeingTaken());
    const last = this.#sweeps.last;
    if (!last) return refused(nothingToTapBy());
    if (last.voidSince !== '') return refused(sweepVoid(last.voidSince));
    if (!isLineOfTheBar(last.result.cautions)) return refused(noLineToTapBy(last.result));
    const reading = this.#measuring.indicator(typed, nowMs);
    if (!reading.ok) return refused(reading.fault);
    const readoutMm = this.#readoutMm(nowMs);
    const { displayUnit } = this.#context.setup;
    if (readoutMm !== null && Math.abs(readoutMm - saidMm) > SAID_WITHIN_MM)
      return refused(parkedElsewhere(saidMm, readoutMm, displayUnit));
    const xMm = readoutMm ?? saidMm;

    this.noteWaiting();
    const since = last.tappedSince ? this.#sinceNow() : NO_TAPS;
    const fault = notByTheTaps(since, xMm, reading.mm, this.#context.setup);
    if (fault) return refused(fault);
    const parked = this.#parkAt(last, since, xMm, reading.mm);
    if (!parked.ok) return refused(parked.fault);
    const beyond = beyondTheBar(last.result, xMm, readoutMm === null, displayUnit);
    if (beyond) return refused(beyond);
    this.#since = since;
    this.#session = parked.session;
    this.#countedAtMm = readoutMm;
    this.#movedReadings = 0;
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
    if (!parked?.ok || last?.voidSince) {
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
    if (step && !byKey && Math.abs(step.afterMm - step.beforeMm) > MOST_OF_A_BLOW_MM) {
      const { displayUnit } = this.#context.setup;
      this.#sweeps.zeroMoved('the needle jumped farther than a blow moves it');
      this.#endInDoubt(jumpedWhileParked(step, displayUnit), atMs);
      return;
    }
    if (step && this.#countedAtMm !== null && this.#waiting.length < MOST_WAITING) {
      this.#waiting.push({ step, atMs });
    } else if (step) this.#note(step, atMs);
    this.noteWaiting(atMs - STANDS_SHOWN_WITHIN_MS);
    this.#tell();
  }

  /** Where the readout says the stylus stands, mm on the work: a moved table ends the parking. */
  readout(xMm: number, atMs: number): void {
    if (!this.#session || this.#countedAtMm === null) return;
    const movedMm = Math.abs(xMm - this.#countedAtMm);
    if (movedMm <= MOVED_MM) {
      this.#movedReadings = 0;
      if (movedMm <= STANDS_WITHIN_MM) this.noteWaiting(atMs);
      return;
    }
    this.#movedReadings += 1;
    if (this.#movedReadings < MOVED_READINGS) return;
    const fault = movedWhileParked(
      this.#countedAtMm,
      xMm,
      this.#waiting.length,
      this.#context.setup.displayUnit,
    );
    const first = this.#waiting[0];
    if (first) this.#session.backTo(first.step.beforeMm);
    this.#waiting = [];
    this.leave();
    this.#context.raise('readout', fault, atMs);
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

  /**
   * The needle went to zero in one step. Parked, that is the zero key or a blow that came to rest there, and the
   * needle cannot tell which: neither is believed, and only a new sweep tells how the vise lies. Inside the stop
   * band "stop, sweep again" holds either way.
   */
  wentToZero(why: string, atMs: number): void {
    this.spoil(why);
    if (!this.#session || this.#session.section().standing === 'stop') return;
    this.#endInDoubt(zeroedOrTapped(), atMs);
  }

  #endInDoubt(fault: Fault, atMs: number): void {
    this.spoil(fault.what);
    this.#sweeps.tapped();
    this.leave();
    this.#context.raise('indicator', fault, atMs);
  }

  leave(): void {
    if (!this.#session) return;
    this.noteWaiting();
    this.#countedAtMm = null;
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
      pivotMm: this.#sweeps.pivot.xMm,
      malletMm: this.#sweeps.pivot.malletMm,
      parkedAtMm: xMm,
      parkedReadingMm: readingMm,
      digitMm: this.#context.digitMm ?? 0,
    });
  }

  /** Place of the stylus by a live readout; null: positions are not known that way. */
  #readoutMm(nowMs: number): number | null {
    const { way, counts, leftEndCountMm } = this.#context.setup;
    if (way !== 'readout' || counts === null) return null;
    const shown = this.#measuring.fromDevice('readout', nowMs);
    return shown.ok ? counts * (shown.mm - leftEndCountMm) : null;
  }

  /** Steps up to this moment, or all, were made with the table standing. */
  noteWaiting(untilMs = Number.POSITIVE_INFINITY): void {
    while (this.#waiting[0] && this.#waiting[0].atMs <= untilMs) {
      const { step, atMs } = this.#waiting.shift()!;
      this.#note(step, atMs);
    }
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
