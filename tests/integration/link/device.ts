import type { LinkSource } from '@taptrue/protocol';
import type { MemoryPipe } from '@taptrue/server/devices/transport/transport.ts';

/** A device of the suite: it sends what it is told, and can be pulled out and put back. */
export interface Device {
  readonly source: LinkSource;
  readonly pipe: MemoryPipe | null;
  send(text: string): void;
  unplug(): Promise<void>;
  replug(): Promise<void>;
  /** Everything the service wrote to it since it was plugged in. */
  heard(): string;
  stop(): Promise<void>;
}
