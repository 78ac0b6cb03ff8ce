import type { Fault, Reading } from '@taptrue/protocol';

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
