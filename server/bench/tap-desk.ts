import type { Answer } from '@taptrue/protocol';
import { type DeskContext, DONE, refused } from './desk.ts';
import type { Measuring } from './measuring.ts';
import { nothingToTapBy, notParked, sweepBeingTaken } from './refusals.ts';
import type { SweepDesk } from './sweep-desk.ts';
import { TapSession } from './tap-session.ts';

/** The parked stylus and the mallet: one session at a time, by the last sweep. */
export class TapDesk {
  readonly #context: DeskContext;
  readonly #measuring: Measuring;
  readonly #sweeps: SweepDesk;
  #session: TapSession | null = null;

  constructor(context: DeskContext, measuring: Measuring, sweeps: SweepDesk) {
    this.#context = context;
    this.#measuring = measuring;
    this.#sweeps = sweeps;
  }

  get isParked(): boolean {
    return this.#session !== null;
  }

  park(xMm: number, keyed: string | undefined, nowMs: number): Answer {
    if (this.#sweeps.isSweeping) return refused(sweepBeingTaken());
    const last = this.#sweeps.last;
    if (!last) return refused(nothingToTapBy());
    const reading = this.#measuring.indicator(keyed, nowMs);
    if (!reading.ok) return refused(reading.fault);
    const parked = this.#parkAt(last, xMm, reading.mm);
    if (!parked.ok) return refused(parked.fault);
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
    const { parkedAtMm, parkedReadingMm, readingMm } = this.#session.section();
    const parked = last && this.#parkAt(last, parkedAtMm, parkedReadingMm);
    if (!parked?.ok) {
      this.leave();
      return;
    }
    this.#session = parked.session;
    if (readingMm === null) this.#session.noReading();
    else this.#session.showing(readingMm);
    this.#tell();
  }

  /** Keyed entry: the reading after a tap. */
  keyed(text: string, nowMs: number): Answer {
    if (!this.#session) return refused(notParked(text));
    const reading = this.#measuring.indicator(text, nowMs);
    if (!reading.ok) return refused(reading.fault);
    this.#note(this.#session.single(reading.mm), nowMs);
    this.#tell();
    return DONE;
  }

  indicator(readingMm: number, atMs: number, byKey: boolean): void {
    if (!this.#session) return;
    const step = byKey ? this.#session.single(readingMm) : this.#session.reading(readingMm, atMs);
    if (step) this.#note(step, atMs);
    this.#tell();
  }

  noReading(): void {
    if (!this.#session) return;
    this.#session.noReading();
    this.#tell();
  }

  leave(): void {
    if (!this.#session) return;
    this.#session = null;
    this.#tell();
    this.#context.standingChanged();
  }

  #parkAt(last: NonNullable<SweepDesk['last']>, xMm: number, readingMm: number) {
    return TapSession.park({
      sweepId: last.run.id,
      result: last.result,
      setup: this.#context.setup,
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
