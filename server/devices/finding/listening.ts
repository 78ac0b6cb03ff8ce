import type { Fault, LineShape } from '@taptrue/protocol';
import { type Clock, OneTimer } from '../transport/clock.ts';
import { IdleProof } from '../transport/prove-idle.ts';
import type { LeadSigns } from '../transport/transport.ts';
import { writeThrough } from './eighth-bit.ts';
import { openingHangs } from './find-faults.ts';
import {
  IDLE_BEFORE_ASKING_MS,
  LEAD_SHOWS_AFTER_MS,
  LINE_RESUMES_AFTER_MS,
  OPENING_WITHIN_MS,
  TOO_MUCH_AFTER_MS,
  TOO_MUCH_BYTES_PER_SECOND,
} from './find-times.ts';
import { isPromising, recognised } from './judge-hearing.ts';
import type { Ear } from './listener.ts';
import { ShapeHearing } from './shape-hearing.ts';
import type { Heard, ListenStep } from './steps.ts';

export interface ListeningOptions {
  step: ListenStep;
  /** The port as the user knows it. */
  title: string;
  shapes: readonly LineShape[];
  ear: Ear;
  clock: Clock;
  done(heard: Heard): void;
}

/** One listening with one setting, from opening the port to what it says. Calls `done` once, unless stopped. */
export class Listening {
  readonly #options: ListeningOptions;
  readonly #hearing: ShapeHearing;
  readonly #idle: IdleProof;
  readonly #endTimer: OneTimer;
  readonly #sendTimer: OneTimer;
  readonly #leadTimer: OneTimer;
  #sinceMs: number;
  #lastBytesMs = Number.NEGATIVE_INFINITY;
  #sent = 0;
  #lastSent: string | null = null;
  #answeredTo: string | null = null;
  #echoOwed = '';
  #echoBytes = 0;
  #lead: LeadSigns | null = null;

  constructor(options: ListeningOptions) {
    const { step, shapes, clock } = options;
    this.#options = options;
    this.#hearing = new ShapeHearing(shapes, step.eighths);
    this.#idle = new IdleProof(clock);
    this.#endTimer = new OneTimer(clock);
    this.#sendTimer = new OneTimer(clock);
    this.#leadTimer = new OneTimer(clock);
    this.#sinceMs = clock.now();
  }

  start(): void {
    const { step, ear, title } = this.#options;
    this.#endTimer.set(OPENING_WITHIN_MS, () =>
      this.#end('failed', openingHangs(title, OPENING_WITHIN_MS)),
    );
    ear.tune(step.tuning, {
      ready: () => this.#ready(),
      bytes: (chunk) => this.#bytes(chunk),
      failed: (fault) => this.#end('failed', fault),
    });
  }

  stop(): void {
    this.#endTimer.clear();
    this.#sendTimer.clear();
    this.#leadTimer.clear();
    this.#idle.stop();
  }

  #ready(): void {
    const { step, clock, ear } = this.#options;
    this.#sinceMs = clock.now();
    this.#endTimer.set(step.forMs, () => this.#timeIsUp());
    this.#leadTimer.set(LEAD_SHOWS_AFTER_MS, () => {
      void ear.leadSigns().then((lead) => {
        this.#lead = lead;
      });
    });
    this.#idle.begin((idle) => idle && this.#hearing.lineWasIdle());
    if (step.sendings.length === 0) return;
    this.#sendTimer.set(IDLE_BEFORE_ASKING_MS, () => {
      if (this.#hearing.bytes === 0) this.#hearing.lineWasIdle();
      this.#send();
    });
  }

  #send(): void {
    const { step, ear } = this.#options;
    const sending = step.sendings[this.#sent];
    if (sending === undefined) return;
    this.#sent += 1;
    this.#lastSent = sending.request;
    const bytes = writeThrough(Buffer.from(sending.request, 'latin1'), sending.eighth);
    this.#echoOwed = Buffer.from(bytes).toString('latin1');
    ear.write(bytes);
    this.#sendTimer.set(step.sendEveryMs, () => this.#send());
  }

  #bytes(chunk: Uint8Array): void {
    const hearing = this.#hearing;
    const heard = this.#withoutEcho(chunk);
    if (heard.length === 0) return;
    if (hearing.bytes === 0) this.#answeredTo = this.#lastSent;
    this.#idle.bytesCame();
    const { step, clock } = this.#options;
    if (clock.now() - this.#lastBytesMs >= LINE_RESUMES_AFTER_MS) hearing.lineResumes();
    this.#lastBytesMs = clock.now();
    hearing.hear(heard);
    const tookMs = clock.now() - this.#sinceMs;
    const tooMuch = (TOO_MUCH_BYTES_PER_SECOND * tookMs) / 1000;
    if (tookMs >= TOO_MUCH_AFTER_MS && hearing.bytes > tooMuch) this.#end('too much', null);
    else if (recognised(hearing.evidence(), false).length > 0) this.#end('recognised', null);
    else if (step.endsWhenQuietMs !== null) {
      // A line that never falls quiet ends this step as its time does.
      const endsMs = Math.min(step.endsWhenQuietMs, Math.max(0, step.longestMs - tookMs));
      this.#endTimer.set(endsMs, () => this.#end('time', null));
    }
  }

  /** What came, without the beginning that only repeats what was sent. */
  #withoutEcho(chunk: Uint8Array): Uint8Array {
    const owed = this.#echoOwed;
    let same = 0;
    while (same < chunk.length && same < owed.length && chunk[same] === owed.charCodeAt(same)) {
      same += 1;
    }
    // An answer may begin as the request does: it is an echo where one of the two agrees to its end.
    const isEcho = same > 0 && (same === chunk.length || same === owed.length);
    this.#echoOwed = isEcho ? owed.slice(same) : '';
    if (!isEcho) return chunk;
    this.#echoBytes += same;
    return chunk.subarray(same);
  }

  #timeIsUp(): void {
    const { step, clock } = this.#options;
    const leftMs = step.longestMs - (clock.now() - this.#sinceMs);
    if (leftMs > 1 && this.#hopes()) this.#endTimer.set(leftMs, () => this.#end('time', null));
    else this.#end('time', null);
  }

  /** Whether what came so far may become a reading. */
  #hopes(): boolean {
    return isPromising(this.#hearing.evidence()) || this.#hearing.isText;
  }

  #end(ended: Heard['ended'], fault: Fault | null): void {
    this.stop();
    this.#options.done({
      kind: 'heard',
      ended,
      fault,
      hearing: this.#hearing,
      tookMs: this.#options.clock.now() - this.#sinceMs,
      answeredTo: this.#answeredTo,
      lead: this.#lead,
      onlyEcho: this.#echoBytes > 0 && this.#hearing.bytes === 0,
    });
  }
}
