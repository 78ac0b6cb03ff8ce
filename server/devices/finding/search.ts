import type { Fault, LineShape } from '@taptrue/protocol';
import { tooMuch } from './find-faults.ts';
import { FindLog, type Unread, type Verdict } from './find-log.ts';
import { KEY_EACH_MS, KEY_FIRST_MS, PLAIN_TEXT_MS } from './find-times.ts';
import {
  askStep,
  inOrder,
  keyStep,
  quickStep,
  slowStep,
  surelyStep,
  totalMs,
  wakingSteps,
} from './make-steps.ts';
import { otherRequests, requestsOfShapes } from './requests-tried.ts';
import {
  type ControlLines,
  type Framing,
  PARITY_EARS,
  type Tried,
  type Tuning,
  tuningOf,
  WIDE_EAR,
} from './settings-tried.ts';
import { type Found, settle } from './settle.ts';
import type { FindStep, Heard, ListenStep, QuestionStep, StepResult } from './steps.ts';

/** Whether requests may be sent. "wanted": it would help, and nobody has said yet. */
export type Consent = 'not asked yet' | 'wanted' | 'given' | 'refused';

export type Ending =
  | { kind: 'found'; found: Found }
  | { kind: 'nothing'; fault: Fault; unread: Unread | null };

export interface SearchOptions {
  title: string;
  tried: Tried;
  shapes: readonly LineShape[];
  consent(): Consent;
  /** Asking would help now. */
  wantConsent(): void;
  waitForKeyMs: number;
}

type Searching<T> = Generator<FindStep, T, StepResult>;

/** The port is gone or may not be used: there is nothing left to search. */
class PortFailed extends Error {
  constructor(readonly fault: Fault) {
    super(fault.what);
  }
}

/**
 * What to listen to next, from what was heard so far. A generator: gives one step after the other, takes
 * what each brought, ends with the device or with why there is none. No clock, no port, nothing sent unless
 * consent is given.
 *
 * Order: quickly through the speeds with both control lines up, then with the others where all was silent;
 * parity where bytes came. Then slowly, asking where that is allowed, and at last the key.
 */
export class Search {
  readonly #options: SearchOptions;
  readonly #log = new FindLog();
  readonly #ruledOut = new Set<string>();
  #settingsRefused: Fault | null = null;
  #listened = false;
  #othersAsked = false;

  constructor(options: SearchOptions) {
    this.#options = options;
  }

  *run(): Searching<Ending> {
    try {
      const found =
        (yield* this.#quickly()) ??
        (yield* this.#plainText()) ??
        (yield* this.#unlessPlain(() => this.#patiently())) ??
        (yield* this.#unlessPlain(() => this.#byKey()));
      return found ? { kind: 'found', found } : { kind: 'nothing', ...this.#verdict() };
    } catch (error) {
      if (error instanceof PortFailed) return { kind: 'nothing', fault: error.fault, unread: null };
      throw error;
    }
  }

  *#quickly(): Searching<Found | null> {
    const { lines } = this.#options.tried;
    for (const [index, these] of lines.entries()) {
      const steps = this.#wide(these).map(quickStep);
      const others = lines.length - 1 - index;
      const found = yield* this.#through(inOrder(steps, others * totalMs(steps)));
      if (found) return found;
      // A device that talks has power: the other levels are left for later.
      if (this.#log.talksWith(these)) {
        return yield* this.#through(inOrder(this.#withParity(these).map(quickStep)));
      }
    }
    return null;
  }

  /** Lines that no shape read so far: a few more of them, to be sure of it and to teach a shape from. */
  *#plainText(): Searching<Found | null> {
    const tuning = this.#log.plainTextHeardWith;
    return tuning === null ? null : yield* this.#through([surelyStep(tuning, PLAIN_TEXT_MS)]);
  }

  *#unlessPlain(search: () => Searching<Found | null>): Searching<Found | null> {
    return this.#log.speaksPlainly ? null : yield* search();
  }

  *#patiently(): Searching<Found | null> {
    const talking = this.#talkingLines();
    this.#options.wantConsent();
    // A silent device is likelier to wait for a request than to be slow.
    if (talking.length === 0) {
      const found = yield* this.#asking(true);
      if (found) return found;
    }
    for (const these of talking.length > 0 ? talking : this.#options.tried.lines) {
      const found = yield* this.#through(inOrder(wakingSteps(this.#wide(these))), true);
      if (found) return found;
      if (!this.#log.talksWith(these)) continue;
      const more = yield* this.#through(inOrder(this.#withParity(these).map(slowStep)), true);
      if (more) return more;
    }
    return yield* this.#asking(false);
  }

  /** Asks where that is allowed and was not done. `shapesOnly`: with what the known shapes ask with. */
  *#asking(shapesOnly: boolean): Searching<Found | null> {
    const { tried, shapes, consent } = this.#options;
    if (consent() !== 'given') return null;
    const talking = this.#talkingLines();
    const lines = talking.length > 0 ? talking : tried.lines;
    if (!this.#log.wasAsked) {
      this.#log.asked();
      const steps = lines.flatMap((these) => this.#askAll(these, requestsOfShapes(shapes)));
      const found = yield* this.#through(inOrder(steps));
      if (found) return found;
    }
    if (shapesOnly || this.#othersAsked) return null;
    this.#othersAsked = true;
    return yield* this.#through(inOrder(this.#askAll(lines[0]!, otherRequests(shapes))));
  }

  /** Every setting in turn, for as long as a hand may press the key, until the time is over. */
  *#byKey(): Searching<Found | null> {
    const { waitForKeyMs, tried } = this.#options;
    let leftMs = waitForKeyMs;
    let first = true;
    while (leftMs > 0) {
      this.#log.waitedForKey();
      const talking = this.#talkingLines();
      for (const these of talking.length > 0 ? talking : tried.lines) {
        for (const tuning of this.#likeliestFirst(this.#wide(these), these)) {
          if (leftMs <= 0) return null;
          const asked = yield* this.#askIfAllowedNow();
          if (asked) return asked;
          const forMs = Math.min(leftMs, first ? KEY_FIRST_MS : KEY_EACH_MS);
          first = false;
          const step = { ...keyStep(tuning, forMs), thenLeftMs: leftMs - forMs };
          const heard = yield* this.#hear(step);
          leftMs -= Math.max(heard.tookMs, 1);
          const found = yield* this.#settle(heard, step);
          if (found) return found;
          if (!prints(heard) || tuning.settings === null) continue;
          // The speed is right and the parity is not: the next presses are heard with it.
          for (const ear of PARITY_EARS) {
            const withParity = keyStep(
              tuningOf(tuning.settings.baudRate, ear, these),
              Math.max(0, Math.min(leftMs, KEY_EACH_MS)),
            );
            const pressed = yield* this.#hear(withParity);
            leftMs -= Math.max(pressed.tookMs, 1);
            const understood = yield* this.#settle(pressed, withParity);
            if (understood) return understood;
          }
        }
        // It has power with these: a press that fell between two settings is worth another round of them.
        if (this.#log.talksWith(these)) break;
      }
    }
    return null;
  }

  *#askIfAllowedNow(): Searching<Found | null> {
    if (this.#options.consent() !== 'given' || this.#log.wasAsked) return null;
    return yield* this.#asking(false);
  }

  /** One listening after the other until something is found. */
  *#through(steps: readonly ListenStep[], mayAskBetween = false): Searching<Found | null> {
    for (const step of steps) {
      if (mayAskBetween) {
        const asked = yield* this.#askIfAllowedNow();
        if (asked) return asked;
      }
      const heard = yield* this.#hear(step);
      const found = yield* this.#settle(heard, step);
      if (found) return found;
    }
    return null;
  }

  *#hear(step: ListenStep): Searching<Heard> {
    const heard = yield step;
    if (heard.kind !== 'heard') throw new TypeError('a listening was answered like a question');
    if (heard.ended === 'too much') {
      const perSecond = (heard.hearing.bytes * 1000) / heard.tookMs;
      throw new PortFailed(tooMuch(this.#options.title, perSecond));
    }
    if (heard.ended === 'failed' && heard.fault) {
      // An adapter may not do one speed; the others are tried all the same.
      if (heard.fault.code !== 'port-setting-refused') throw new PortFailed(heard.fault);
      this.#settingsRefused = heard.fault;
    } else this.#listened = true;
    this.#log.heard(heard, step.tuning);
    return heard;
  }

  #settle(heard: Heard, step: ListenStep): Searching<Found | null> {
    return settle(heard, step, {
      shapes: this.#options.shapes,
      ruledOut: this.#ruledOut,
      hear: (next) => this.#hear(next),
      ask: (question) => this.#ask(question),
      refused: (text) => this.#log.refusedReading(text),
    });
  }

  *#ask(question: QuestionStep): Searching<boolean> {
    const result = yield question;
    if (result.kind === 'failed') throw new PortFailed(result.fault);
    return result.kind === 'answer' && result.same;
  }

  #wide(lines: ControlLines) {
    return this.#options.tried.baudRates.map((baudRate) => tuningOf(baudRate, WIDE_EAR, lines));
  }

  /** The speeds at which what came was most like numbers, before those at which nothing did. */
  #likeliestFirst(tunings: readonly Tuning[], lines: ControlLines): Tuning[] {
    const heard = this.#log.baudRatesHeard(lines);
    const place = ({ settings }: Tuning) => {
      const at = settings === null ? -1 : heard.indexOf(settings.baudRate);
      return at < 0 ? heard.length : at;
    };
    return [...tunings].sort((one, other) => place(one) - place(other));
  }

  /** With parity, at the speeds at which anything came. */
  #withParity(lines: ControlLines) {
    const each = (baudRate: number) =>
      PARITY_EARS.map((ear: Framing) => tuningOf(baudRate, ear, lines));
    return this.#log.baudRatesHeard(lines).flatMap(each);
  }

  #askAll(lines: ControlLines, requests: readonly string[]): ListenStep[] {
    if (requests.length === 0) return [];
    return this.#options.tried.baudRates.flatMap((baudRate) => {
      const ears = baudRate === null ? [WIDE_EAR] : [WIDE_EAR, ...PARITY_EARS];
      return ears.map((ear) => askStep(tuningOf(baudRate, ear, lines), requests));
    });
  }

  #talkingLines(): ControlLines[] {
    return this.#options.tried.lines.filter((lines) => this.#log.talksWith(lines));
  }

  #verdict(): Verdict {
    if (!this.#listened && this.#settingsRefused)
      return { fault: this.#settingsRefused, unread: null };
    const isSocket = this.#options.tried.baudRates[0] === null;
    return this.#log.verdict(this.#options.title, isSocket);
  }
}

/** With the wrong parity half the characters of a line come, and those are right. */
function prints({ hearing }: Heard): boolean {
  return hearing.judgedBytes > 0 && hearing.printingBytes >= hearing.judgedBytes * 0.8;
}
