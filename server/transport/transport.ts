import type { Fault } from '@taptrue/protocol';

/** What a transport tells its owner. Every call carries the monotonic time it happened at. */
export interface TransportEvents {
  opened(atMs: number): void;
  bytes(chunk: Uint8Array, atMs: number): void;
  /** The other end is gone or the transport was closed; fault null where it was closed on purpose. */
  closed(fault: Fault | null, atMs: number): void;
}

/**
 * Bytes from a serial port, a TCP socket or a simulator. Knows nothing of readings. One `open` per
 * instance; after `closed` it is finished and a new one is made.
 */
export interface Transport {
  readonly title: string;
  open(events: TransportEvents): void;
  write(bytes: Uint8Array): void;
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
}
