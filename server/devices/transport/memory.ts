import {
  type LeadSigns,
  type MemoryPipe,
  NO_SIGNS,
  type Transport,
  type TransportEvents,
} from './transport.ts';

export interface MemoryOptions {
  title: string;
  pipe: MemoryPipe;
  /** Monotonic, milliseconds. */
  now: () => number;
}

/** Bytes of a simulated device in this process, through the same door as a port's. */
export class MemoryTransport implements Transport {
  readonly title: string;
  private events: TransportEvents | null = null;
  private finished = false;

  constructor(private readonly options: MemoryOptions) {
    this.title = options.title;
  }

  open(events: TransportEvents): void {
    const { pipe, now } = this.options;
    this.events = events;
    let gone = false;
    let open = false;
    pipe.attach(
      (chunk) => {
        if (open && !this.finished) events.bytes(chunk, now());
      },
      () => {
        gone = true;
        if (open) this.pulled();
      },
    );
    // A pipe may say at once that there is no device: then it was never open.
    if (gone) {
      this.pulled();
      return;
    }
    open = true;
    events.opened(now());
  }

  write(bytes: Uint8Array): void {
    if (!this.finished) this.options.pipe.send(bytes);
  }

  async leadSigns(): Promise<LeadSigns> {
    return this.finished ? NO_SIGNS : (this.options.pipe.leadSigns?.() ?? NO_SIGNS);
  }

  async close(): Promise<void> {
    if (this.finished) return;
    this.finished = true;
    this.options.pipe.detach();
    this.events?.closed(null, this.options.now());
  }

  private pulled(): void {
    if (this.finished) return;
    this.finished = true;
    this.options.pipe.detach();
    this.events?.closed(
      {
        code: 'port-gone',
        what: `${this.title} is gone: the simulated device was unplugged.`,
        got: '',
        remedy: 'Plug it in again; it is taken up by itself within two seconds.',
      },
      this.options.now(),
    );
  }
}
