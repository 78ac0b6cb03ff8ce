import type { Fault, LineShape, Reading } from '@taptrue/protocol';
import type { ReadingIntake } from './take-readings.ts';

/** What a source tells the link that keeps it open. Nothing comes after `closed`. */
export interface SourceEvents {
  opened(atMs: number): void;
  /** Something arrived, whatever it is. */
  heard(): void;
  reading(reading: Reading): void;
  /** A reading of the second channel, where one is set. */
  second(reading: Reading): void;
  /** What came gives no reading; its text as it came. */
  unread(text: string): void;
  /** What comes may not be used from this moment on: the number on the screen is no longer the device's. */
  refused(fault: Fault): void;
  /** The other end is gone; null where nobody said why. */
  closed(fault: Fault | null): void;
}

/**
 * Where the readings of one link come from: lines of bytes, registers that are polled, documents over HTTP.
 * It opens and reads; when to open again, and what its silence means, is the link's. One `open` is one try;
 * counters, unit and channel last from one try to the next.
 */
export interface ReadingSource {
  readonly trigger: LineShape['trigger'];
  /** Open and without a reading for this long it is silent or not understood. */
  readonly silentAfterMs: number;
  /** What has come so far, as the watch over the link must know it. */
  readonly intake: ReadingIntake;
  /** The port, host or device as the user knows it. */
  readonly title: string;
  /** Begins a try. May throw what the system says. */
  open(events: SourceEvents): void;
  /** Asks for one reading now. False where this device cannot be asked or is not open. */
  askNow(): boolean;
  /** Nothing has come for so long that what was begun will not end. */
  fellSilent(): void;
  silentFault(silentAfterMs: number): Fault;
  notUnderstoodFault(): Fault;
  /** Gives up the try in progress and tells nothing more of it; resolves once the port is let go. */
  close(): Promise<void>;
}
