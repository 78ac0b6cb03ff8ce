import type { Fault, PortDescription } from '@taptrue/protocol';
import { type LeadSigns, NO_SIGNS, type Transport, type TransportEvents } from './transport.ts';
import { type SerialSource, whichPort } from './which-port.ts';

export interface ByIdentityOptions {
  source: SerialSource;
  /** The ports there are now; may take its time, and may fail. */
  ports(): Promise<readonly PortDescription[]>;
  open(path: string): Transport;
  /** Monotonic, milliseconds. */
  now(): number;
}

/** A serial port that is looked for by the identity of its device at every opening. */
export class SerialByIdentity implements Transport {
  private inner: Transport | null = null;
  private finished = false;
  private events: TransportEvents | null = null;

  constructor(private readonly options: ByIdentityOptions) {}

  get title(): string {
    return this.inner?.title ?? this.options.source.path;
  }

  open(events: TransportEvents): void {
    this.events = events;
    this.options
      .ports()
      .catch((): PortDescription[] => [])
      .then((ports) => this.openAmong(ports, events))
      .catch((error: unknown) =>
        this.finish({
          code: 'port-failed',
          what: `${this.title} failed.`,
          got: String(error),
          remedy: 'Unplug the device and plug it in again; it is tried again by itself.',
        }),
      );
  }

  write(bytes: Uint8Array): void {
    this.inner?.write(bytes);
  }

  async leadSigns(): Promise<LeadSigns> {
    return (await this.inner?.leadSigns?.()) ?? NO_SIGNS;
  }

  async close(): Promise<void> {
    this.finish(null);
    await this.inner?.close();
  }

  private openAmong(ports: readonly PortDescription[], events: TransportEvents): void {
    if (this.finished) return;
    const found = whichPort(this.options.source, ports);
    if (found.kind === 'refused') {
      this.finish(found.fault);
      return;
    }
    this.inner = this.options.open(found.path);
    this.inner.open({
      opened: (atMs) => !this.finished && events.opened(atMs),
      bytes: (chunk, atMs) => !this.finished && events.bytes(chunk, atMs),
      closed: (fault) => this.finish(fault),
    });
  }

  private finish(fault: Fault | null): void {
    if (this.finished) return;
    this.finished = true;
    this.events?.closed(fault, this.options.now());
  }
}
