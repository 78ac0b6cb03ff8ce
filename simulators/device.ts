import type { LengthUnit, LineShape, ReadingStatus } from '@taptrue/protocol';
import type { SimulatorClock } from './clock.ts';
import { fromMidLine, GOOD_LINK, type Misbehaviour, spoiled } from './misbehave.ts';
import { Dice } from './random.ts';
import { canSay, speak } from './speak.ts';

/** After a pause of the process a device does not send more than this at once: a real one would not have waited. */
const MOST_FRAMES_AT_ONCE = 64;
/** Bytes of a request remembered while it comes in; requests are at most 16 characters. */
const LONGEST_REQUEST_BYTES = 64;

/** What the device measures at a time: the number on its display, in its unit. */
export type Measure = (atMs: number) => { value: number | null; status: ReadingStatus };

export interface DeviceOptions {
  shape: LineShape;
  measure: Measure;
  unit: LengthUnit;
  decimals: number;
  channel: string | null;
  /** Streaming shapes only. */
  readingsPerSecond: number;
  clock: SimulatorClock;
  seed: number;
}

export interface DeviceCounters {
  sent: number;
  dropped: number;
  /** The shape has no way to say it, or nobody was listening. */
  unsaid: number;
  requests: number;
}

/**
 * An indicator or a readout: what it measures, put into its shape's bytes, sent by itself, when asked, or
 * when its key is pressed. One listener at a time, as on a port.
 */
export class SimulatedDevice {
  readonly counters: DeviceCounters = { sent: 0, dropped: 0, unsaid: 0, requests: 0 };
  misbehaviour: Misbehaviour = GOOD_LINK;
  /** Last thing done to the bytes before they leave: wrong baud, parity bit. Null: nothing. */
  lineFault: ((bytes: Uint8Array) => Uint8Array) | null = null;
  /** A new listener hears the end of a line first. */
  startsMidLine = false;

  readonly #options: DeviceOptions;
  readonly #dice: Dice;
  #onBytes: ((chunk: Uint8Array) => void) | null = null;
  #onGone: (() => void) | null = null;
  #stopTimer: (() => void) | null = null;
  #nextDueMs = 0;
  #stalledUntilMs = Number.NEGATIVE_INFINITY;
  #plugged = true;
  #heard = '';
  #counter = 0;

  constructor(options: DeviceOptions) {
    this.#options = options;
    this.#dice = new Dice(options.seed);
  }

  get plugged(): boolean {
    return this.#plugged;
  }

  /** The number on its display now, in its unit; null: none. However it is fetched, it is the same number. */
  get shownNow(): number | null {
    const { measure, clock } = this.#options;
    return measure(clock.nowMs()).value;
  }

  get sendsWhenAsked(): boolean {
    return this.#options.shape.trigger === 'asked';
  }

  /** A listener opens the port. An unplugged device is gone at once. */
  attach(onBytes: (chunk: Uint8Array) => void, onGone: () => void): void {
    this.detach();
    if (!this.#plugged) {
      onGone();
      return;
    }
    this.#onBytes = onBytes;
    this.#onGone = onGone;
    const { shape, clock, readingsPerSecond } = this.#options;
    if (this.startsMidLine)
      this.#deliver(fromMidLine(this.#frame() ?? new Uint8Array(), this.#dice));
    if (shape.trigger !== 'streams') return;
    const periodMs = 1000 / readingsPerSecond;
    this.#nextDueMs = clock.nowMs() + periodMs;
    this.#stopTimer = clock.every(Math.max(periodMs, 1), () => this.#sendDue(periodMs));
  }

  detach(): void {
    this.#stopTimer?.();
    this.#stopTimer = null;
    this.#onBytes = null;
    this.#onGone = null;
    this.#heard = '';
  }

  /** Bytes from the listener: a request is answered wherever it stands in them. */
  hear(bytes: Uint8Array): void {
    const { request } = this.#options.shape;
    if (request === null) return;
    this.#heard = (this.#heard + Buffer.from(bytes).toString('latin1')).slice(
      -LONGEST_REQUEST_BYTES,
    );
    for (let at = this.#heard.indexOf(request.text); at >= 0; ) {
      this.#heard = this.#heard.slice(at + request.text.length);
      this.counters.requests += 1;
      this.sendOne();
      at = this.#heard.indexOf(request.text);
    }
  }

  /** The device's own send key, or one reading out of turn. */
  sendOne(): void {
    if (this.#options.clock.nowMs() < this.#stalledUntilMs) return;
    const frame = this.#frame();
    if (frame === null) return;
    const left = spoiled(frame, this.misbehaviour, this.#dice);
    if (left === null) {
      this.counters.dropped += 1;
      return;
    }
    this.counters.sent += 1;
    this.#deliver(left);
  }

  /** Several readings in one chunk, as a buffered adapter hands them over. */
  burst(count: number): void {
    const frames: Uint8Array[] = [];
    for (let left = Math.min(count, MOST_FRAMES_AT_ONCE); left > 0; left -= 1) {
      const frame = this.#frame();
      if (frame !== null) frames.push(frame);
    }
    this.counters.sent += frames.length;
    this.#deliver(Buffer.concat(frames));
  }

  /** Sends nothing for a while, stays plugged in. */
  stall(forMs: number): void {
    this.#stalledUntilMs = this.#options.clock.nowMs() + forMs;
  }

  unplug(): void {
    const gone = this.#onGone;
    this.#plugged = false;
    this.detach();
    gone?.();
  }

  replug(): void {
    this.#plugged = true;
  }

  #sendDue(periodMs: number): void {
    const nowMs = this.#options.clock.nowMs();
    const due = Math.floor((nowMs - this.#nextDueMs) / periodMs + 1e-6) + 1;
    if (due <= 0) return;
    this.#nextDueMs += due * periodMs;
    // Every reading due since the last call is sent now, with what is measured now: no reading is invented late.
    for (let left = Math.min(due, MOST_FRAMES_AT_ONCE); left > 0; left -= 1) this.sendOne();
  }

  #frame(): Uint8Array | null {
    const { shape, measure, clock, unit, decimals, channel } = this.#options;
    const { value, status } = measure(clock.nowMs());
    const sayable = status === 'ok' || canSay(shape, status);
    this.#counter += 1;
    const spoken = speak(shape, {
      value,
      // A shape without a word for it shows what the display shows: the last number, or the stop.
      status: sayable ? status : 'ok',
      unit,
      decimals,
      channel,
      counter: this.#counter,
      terse: false,
    });
    if (spoken.ok) return spoken.bytes;
    this.counters.unsaid += 1;
    return null;
  }

  #deliver(bytes: Uint8Array): void {
    if (bytes.length === 0) return;
    const sent = this.lineFault ? this.lineFault(bytes) : bytes;
    if (sent.length > 0) this.#onBytes?.(sent);
  }
}
