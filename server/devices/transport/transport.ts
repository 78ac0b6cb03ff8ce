import type { Fault } from '@taptrue/protocol';

/** What a transport tells its owner. Every call carries the monotonic time it happened at. */
export interface TransportEvents {
  opened(atMs: number): void;
  bytes(chunk: Uint8Array, atMs: number): void;
  /** The other end is gone or the transport was closed; fault null where it was closed on purpose. */
  closed(fault: Fault | null, atMs: number): void;
}

/** Lines that the far end of a serial lead switches, and this port reads. */
export interface StatusLines {
  cts: boolean;
  dsr: boolean;
  dcd: boolean;
}

/** What a port can tell of the lead behind it, beside its bytes. */
export interface LeadSigns {
  /** False: it refused to set DTR and RTS, so that a lead which lives on them has no power. */
  setsLines: boolean;
  /** Null: it cannot read them, as a pseudo-terminal and some adapters cannot; nothing follows from that. */
  status: StatusLines | null;
}

/** Of a source without such lines, or of a port that is not open. */
export const NO_SIGNS: LeadSigns = { setsLines: true, status: null };

/**
 * Bytes from a serial port, a TCP socket or a simulator. Knows nothing of readings. One `open` per
 * instance; after `closed` it is finished and a new one is made.
 */
export interface Transport {
  readonly title: string;
  open(events: TransportEvents): void;
  write(bytes: Uint8Array): void;
  /** Left out where there are no such lines. Never rejects. */
  leadSigns?(): Promise<LeadSigns>;
  close(): Promise<void>;
}

/** Makes a fresh transport for every try; what differs (path, host, simulator) is closed over. */
export type TransportMaker = () => Transport;

/** A byte pipe in memory: what a simulated device offers instead of a port. */
export interface MemoryPipe {
  /** Connects; the pipe calls `onBytes` for what the device sends and `onGone` when it is unplugged. */
  attach(onBytes: (chunk: Uint8Array) => void, onGone: () => void): void;
  detach(): void;
  /** Bytes from the service to the device. */
  send(bytes: Uint8Array): void;
  /** Of a simulated lead that has such lines. */
  leadSigns?(): LeadSigns;
}
