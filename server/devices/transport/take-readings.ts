import {
  type Fault,
  type LinkConfig,
  type LinkCounters,
  LONGEST_TEXT,
  type Reading,
  toMm,
  zeroCounters,
} from '@taptrue/protocol';
import { LineLog } from './line-log.ts';
import { ReadingSieve, type Sifted, type WholeFrame } from './sift-readings.ts';
import type { SourceEvents } from './source-events.ts';

export interface IntakeOptions {
  config: Pick<LinkConfig, 'unit' | 'channel' | 'secondChannel'>;
  /** Who is told; null while no try is on. */
  events: () => SourceEvents | null;
  /** Why a whole frame is not used, in the words of its source. */
  siftedFault(sifted: Exclude<Sifted, { kind: 'ours' | 'second' }>, text: string): Fault;
}

/**
 * The last step of every source: whole frames are sifted by channel and unit, counted, and given as readings.
 * Remembers what the watch over the link must know. Has no clock of its own.
 */
export class ReadingIntake {
  readonly counters: LinkCounters = zeroCounters();
  readonly log = new LineLog();
  lastText = '';
  /** Readings given since the link was made. */
  readings = 0;
  lastBytesAtMs: number | null = null;
  lastReadingAtMs: number | null = null;
  /** Since when what comes is no reading to be used; null while readings come. */
  missedSinceMs: number | null = null;
  /** Why it is none; made only where it is shown. */
  missFault: (() => Fault) | null = null;
  private secondReadings = 0;
  private readonly sieve: ReadingSieve;

  constructor(private readonly options: IntakeOptions) {
    this.sieve = new ReadingSieve(options.config);
  }

  /** A try has opened: what came before says nothing of it. */
  begin(): void {
    this.log.begin();
    this.lastBytesAtMs = null;
    this.lastReadingAtMs = null;
    this.missedSinceMs = null;
    this.missFault = null;
  }

  heard(bytes: number, atMs: number): void {
    this.counters.bytes += bytes;
    this.lastBytesAtMs = atMs;
    this.options.events()?.heard();
  }

  /** What came last, as it came, whether it was understood or not. */
  show(text: string): string {
    this.lastText = text.length > LONGEST_TEXT ? `${text.slice(0, LONGEST_TEXT - 1)}…` : text;
    this.log.came(this.lastText);
    return this.lastText;
  }

  take(frame: WholeFrame, atMs: number): void {
    this.counters.frames += 1;
    const sifted = this.sieve.sift(frame);
    if (sifted.kind === 'ours') {
      this.give(frame, sifted.unit, atMs);
      return;
    }
    if (sifted.kind === 'second') {
      const reading = this.readingOf(frame, sifted.unit, atMs, this.secondReadings);
      this.log.understood(reading);
      this.options.events()?.second(reading);
      this.secondReadings += 1;
      return;
    }
    const text = this.lastText;
    const why = () => this.options.siftedFault(sifted, text);
    if (sifted.kind === 'other channel') {
      this.counters.otherChannel += 1;
      // Several channels in turn are usual; one whose turn it is not is missed only where ours never came.
      if (this.lastReadingAtMs === null) this.miss(why, atMs);
      else this.missFault = why;
      return;
    }
    this.miss(why, atMs);
    this.counters.unitRefused += 1;
    this.options.events()?.refused(why());
  }

  miss(why: () => Fault, atMs: number): void {
    this.log.missed();
    this.options.events()?.unread(this.lastText);
    this.missedSinceMs ??= atMs;
    this.missFault = why;
  }

  private give(frame: WholeFrame, unit: Reading['unit'], atMs: number): void {
    this.lastReadingAtMs = atMs;
    this.missedSinceMs = null;
    this.missFault = null;
    const sequence = this.readings;
    this.readings += 1;
    const reading = this.readingOf(frame, unit, atMs, sequence);
    if (this.log.gave(atMs)) this.counters.resyncs += 1;
    this.log.understood(reading);
    this.options.events()?.reading(reading);
  }

  private readingOf(
    frame: WholeFrame,
    unit: Reading['unit'],
    atMs: number,
    sequence: number,
  ): Reading {
    return {
      sequence,
      atMs,
      text: this.lastText,
      channel: frame.channel,
      value: frame.value,
      unit,
      valueMm: frame.value === null ? null : toMm(frame.value, unit),
      decimals: frame.decimals,
      status: frame.status,
    };
  }
}
