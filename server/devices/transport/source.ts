import type { Fault, LineShape } from '@taptrue/protocol';
import type { SourceEvents } from './source-events.ts';
import type { ReadingIntake } from './take-readings.ts';

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
