import {
  type Fault,
  type LineShape,
  type LinkCounters,
  type Reading,
  toMm,
  zeroCounters,
} from '@taptrue/protocol';
import { type Cut, type FrameCutter, makeFrameCutter } from '../shapes/cut-frames.ts';
import { decodeFrame } from '../shapes/decode-frame.ts';
import { escapeControls } from '../shapes/escape-controls.ts';
import { type LinkNames, notUnderstoodFault, siftedFault, tooLongFault } from './link-faults.ts';
import { ReadingSieve, type WholeFrame } from './sift-readings.ts';

/** What the reader of one link tells its owner. */
export interface LineReaderEvents {
  /** A whole frame came, understood or not: a request is answered. */
  frame(): void;
  reading(reading: Reading): void;
  /** A whole reading came in a unit it may not be used in. */
  unitRefused(fault: Fault): void;
}

/**
 * Bytes of one link to its readings: cut, decoded, sifted, counted. Remembers what the watch over the
 * line must know. Has no clock of its own.
 */
export class LineReader {
  readonly counters: LinkCounters = zeroCounters();
  lastText = '';
  /** Readings given since the link was opened. */
  readings = 0;
  lastBytesAtMs: number | null = null;
  lastReadingAtMs: number | null = null;
  /** Since when what comes is no reading to be used; null while readings come. */
  missedSinceMs: number | null = null;
  /** Why it is none; made only where it is shown. */
  missFault: (() => Fault) | null = null;
  private cutter: FrameCutter;
  private readonly sieve: ReadingSieve;

  constructor(
    private readonly shape: LineShape,
    private readonly names: () => LinkNames,
    private readonly events: LineReaderEvents,
  ) {
    this.sieve = new ReadingSieve(names().config);
    this.cutter = makeFrameCutter(shape.framing);
  }

  /** The line was opened: nobody knows where in a frame its first byte stands. */
  begin(): void {
    this.cutter = makeFrameCutter(this.shape.framing);
    this.lastBytesAtMs = null;
    this.lastReadingAtMs = null;
    this.missedSinceMs = null;
    this.missFault = null;
  }

  bytes(chunk: Uint8Array, atMs: number): void {
    this.counters.bytes += chunk.length;
    this.lastBytesAtMs = atMs;
    this.takeCuts(this.cutter.feed(chunk), atMs);
  }

  lineWasIdle(): void {
    this.cutter.lineWasIdle();
  }

  /** Gives up on a frame that was begun and never ended. */
  lineFellSilent(): void {
    const cuts = this.cutter.lineFellSilent();
    const [first] = cuts;
    if (first === undefined) return;
    this.takeCuts(cuts, this.lastBytesAtMs ?? 0);
    const text = escapeControls(first.text);
    this.lastText = text;
    this.miss(() => notUnderstoodFault(this.names(), text), this.lastBytesAtMs ?? 0);
  }

  /** The line is closed; its tail is not a reading. */
  end(): void {
    this.takeCuts(this.cutter.end(), this.lastBytesAtMs ?? 0);
  }

  private takeCuts(cuts: readonly Cut[], atMs: number): void {
    for (const cut of cuts) {
      if (cut.kind === 'frame') this.frame(cut.body, cut.text, atMs);
      else if (cut.why === 'partial') this.counters.partialFramesDropped += 1;
      else this.tooLong(cut.text, atMs);
    }
  }

  private tooLong(text: string, atMs: number): void {
    this.counters.framesTooLong += 1;
    const shown = escapeControls(text);
    this.lastText = shown;
    const { longestBytes } = this.shape.framing;
    this.miss(() => tooLongFault(this.names(), longestBytes, shown), atMs);
  }

  private frame(body: string, text: string, atMs: number): void {
    const shown = escapeControls(text);
    this.lastText = shown;
    this.events.frame();
    const decoded = decodeFrame(body, this.shape);
    if (decoded.kind === 'invalid') {
      this.counters.framesNotUnderstood += 1;
      this.miss(() => notUnderstoodFault(this.names(), shown), atMs);
      return;
    }
    this.counters.frames += 1;
    const sifted = this.sieve.sift(decoded);
    if (sifted.kind === 'ours') {
      this.give(decoded, sifted.unit, atMs);
      return;
    }
    const why = () => siftedFault(this.names(), sifted, shown);
    if (sifted.kind === 'other channel') {
      this.counters.otherChannel += 1;
      // Several channels in turn are usual; one whose turn it is not is missed only where ours never came.
      if (this.lastReadingAtMs === null) this.miss(why, atMs);
      else this.missFault = why;
      return;
    }
    this.miss(why, atMs);
    this.counters.unitRefused += 1;
    this.events.unitRefused(why());
  }

  private give(frame: WholeFrame, unit: Reading['unit'], atMs: number): void {
    this.lastReadingAtMs = atMs;
    this.missedSinceMs = null;
    this.missFault = null;
    const sequence = this.readings;
    this.readings += 1;
    this.events.reading({
      sequence,
      atMs,
      text: this.lastText,
      channel: frame.channel,
      value: frame.value,
      unit,
      valueMm: frame.value === null ? null : toMm(frame.value, unit),
      decimals: frame.decimals,
      status: frame.status,
    });
  }

  private miss(why: () => Fault, atMs: number): void {
    this.missedSinceMs ??= atMs;
    this.missFault = why;
  }
}
