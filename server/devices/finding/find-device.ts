import type { LineShape } from '@taptrue/protocol';
import { type Clock, OneTimer } from '../transport/clock.ts';
import { IdleProof } from '../transport/prove-idle.ts';
import { ASK_AGAIN_MS, IDLE_BEFORE_ASKING_MS } from './find-times.ts';
import { Ear, type TransportFor } from './listener.ts';
import { Listening } from './listening.ts';
import { LiveSample } from './live-sample.ts';
import { type Consent, type Ending, Search } from './search.ts';
import type { Tried } from './settings-tried.ts';
import type { HeardReading } from './shape-hearing.ts';
import type { FindStep, QuestionStep, StepResult } from './steps.ts';

export interface FindOptions {
  /** The port as the user knows it. */
  title: string;
  tried: Tried;
  transportFor: TransportFor;
  shapes: readonly LineShape[];
  clock: Clock;
  /** Whether requests may be sent; "not asked yet" turns to "wanted" where it would help. */
  consent: Consent;
  /** Waits so long for a key before giving up; 0: not at all. */
  waitForKeyMs: number;
  onChange(now: FindNow): void;
}

/** Where the search stands. */
export interface FindNow {
  step: FindStep | null;
  consent: Consent;
  /** Settings listened to so far, a second time counted again. */
  tried: number;
  secondsLeft: number | null;
  /** The question's reading as it is now. */
  sample: HeardReading | null;
  ending: Ending | { kind: 'stopped' } | null;
}

/**
 * One search on one port: listens through the settings, says what was recognised, asks one question. Sends
 * nothing without consent. Holds the port until it has ended and `close` has resolved.
 */
export class FindDevice {
  readonly #options: FindOptions;
  readonly #ear: Ear;
  readonly #steps: Generator<FindStep, Ending, StepResult>;
  readonly #askTimer: OneTimer;
  readonly #idle: IdleProof;
  #listening: Listening | null = null;
  #now: FindNow;

  constructor(options: FindOptions) {
    const { title, tried, shapes, clock, consent, waitForKeyMs } = options;
    this.#options = options;
    this.#ear = new Ear(options.transportFor);
    this.#askTimer = new OneTimer(clock);
    this.#idle = new IdleProof(clock);
    this.#now = { step: null, consent, tried: 0, secondsLeft: null, sample: null, ending: null };
    this.#steps = new Search({
      title,
      tried,
      shapes,
      consent: () => this.#now.consent,
      wantConsent: () => this.#now.consent === 'not asked yet' && this.#set({ consent: 'wanted' }),
      waitForKeyMs,
    }).run();
  }

  get now(): FindNow {
    return this.#now;
  }

  start(): void {
    this.#next(undefined);
  }

  /** The user's word on sending requests; it is used from the next step on. */
  consent(given: boolean): void {
    if (this.#now.ending === null) this.#set({ consent: given ? 'given' : 'refused' });
  }

  /** The user's answer to the question that stands; false where none does. */
  answer(same: boolean): boolean {
    if (this.#now.step?.kind !== 'question' || this.#now.ending !== null) return false;
    this.#next({ kind: 'answer', same });
    return true;
  }

  /** Ends the search where it has not ended; resolves once the port is let go. */
  async close(): Promise<void> {
    this.#stop();
    if (this.#now.ending === null) {
      this.#set({ step: null, ending: { kind: 'stopped' }, secondsLeft: null, sample: null });
    }
    await this.#ear.close();
  }

  #next(result: StepResult | undefined): void {
    this.#stop();
    // The first call takes no result: a generator drops it.
    const { value, done } = this.#steps.next(result as StepResult);
    if (done) {
      void this.#ear.close();
      this.#set({ step: null, ending: value, secondsLeft: null, sample: null });
    } else if (value.kind === 'question') this.#ask(value);
    else {
      const { title, shapes, clock } = this.#options;
      const secondsLeft = Math.ceil((value.forMs + value.thenLeftMs) / 1000);
      this.#set({ step: value, tried: this.#now.tried + 1, secondsLeft, sample: null });
      this.#listening = new Listening({
        step: value,
        title,
        shapes,
        clock,
        ear: this.#ear,
        done: (heard) => this.#next(heard),
      });
      this.#listening.start();
    }
  }

  /** Shows the candidate's readings as they come until the question is answered. */
  #ask(step: QuestionStep): void {
    const { candidate, tuning } = step;
    const { shape } = candidate;
    const request = shape.trigger === 'asked' ? shape.request : null;
    const live = new LiveSample(candidate);
    this.#set({ step, secondsLeft: null, sample: candidate.sample });
    const askAgain = () => {
      if (request === null) return;
      this.#ear.write(Buffer.from(request.text, 'latin1'));
      this.#askTimer.set(ASK_AGAIN_MS, askAgain);
    };
    this.#ear.tune(tuning, {
      ready: () => {
        this.#idle.begin((idle) => idle && live.lineWasIdle());
        this.#askTimer.set(IDLE_BEFORE_ASKING_MS, askAgain);
      },
      bytes: (chunk) => {
        this.#idle.bytesCame();
        const sample = live.hear(chunk);
        if (sample !== null && sample.text !== this.#now.sample?.text) this.#set({ sample });
      },
      failed: (fault) => this.#next({ kind: 'failed', fault }),
    });
  }

  #stop(): void {
    this.#listening?.stop();
    this.#listening = null;
    this.#askTimer.clear();
    this.#idle.stop();
  }

  #set(change: Partial<FindNow>): void {
    this.#now = { ...this.#now, ...change };
    this.#options.onChange(this.#now);
  }
}
