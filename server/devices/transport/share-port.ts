import type { Fault, LineShape, LinkSource } from '@taptrue/protocol';
import { MODBUS_PORT } from './modbus/usual-port.ts';
import {
  type LeadSigns,
  NO_SIGNS,
  type Transport,
  type TransportEvents,
  type TransportMaker,
} from './transport.ts';

interface Shared {
  transport: Transport;
  ears: Map<SharingTransport, TransportEvents>;
  isOpen: boolean;
}

/**
 * One port for both devices of a bench, where one box sends the channels of both: it can be opened once only.
 * The first opens it, the other listens in; it is let go when the last one goes. Two that would set the line
 * differently do not share, and the second is told that the port is taken.
 */
export class PortShare {
  readonly #open = new Map<string, Shared>();
  readonly #now: () => number;

  /** @param now monotonic, milliseconds. */
  constructor(now: () => number) {
    this.#now = now;
  }

  /** How many ports are open now. */
  get portsOpen(): number {
    return this.#open.size;
  }

  /** The same transports, shared with others of this key; null: not to be shared. */
  through(key: string | null, maker: TransportMaker): TransportMaker {
    if (key === null) return maker;
    return () => new SharingTransport(this, key, maker);
  }

  /** @throws what the maker throws. */
  attach(
    key: string,
    maker: TransportMaker,
    ear: SharingTransport,
    events: TransportEvents,
  ): Transport {
    const there = this.#open.get(key);
    if (there) {
      there.ears.set(ear, events);
      // In the next turn, as any port opens: its listener is not ready before `open` returns.
      if (there.isOpen) queueMicrotask(() => there.ears.has(ear) && events.opened(this.#now()));
      return there.transport;
    }
    const shared: Shared = { transport: maker(), ears: new Map([[ear, events]]), isOpen: false };
    this.#open.set(key, shared);
    shared.transport.open({
      opened: (atMs) => {
        shared.isOpen = true;
        for (const one of [...shared.ears.values()]) one.opened(atMs);
      },
      bytes: (chunk, atMs) => {
        for (const one of [...shared.ears.values()]) one.bytes(chunk, atMs);
      },
      closed: (fault, atMs) => this.#closed(key, shared, fault, atMs),
    });
    return shared.transport;
  }

  /** Resolves once the port is let go, where this was the last ear. */
  async detach(key: string, ear: SharingTransport): Promise<void> {
    const shared = this.#open.get(key);
    if (!shared?.ears.delete(ear) || shared.ears.size > 0) return;
    this.#open.delete(key);
    await shared.transport.close();
  }

  #closed(key: string, shared: Shared, fault: Fault | null, atMs: number): void {
    if (this.#open.get(key) === shared) this.#open.delete(key);
    const events = [...shared.ears.values()];
    shared.ears.clear();
    for (const one of events) one.closed(fault, atMs);
  }
}

class SharingTransport implements Transport {
  readonly #share: PortShare;
  readonly #key: string;
  readonly #maker: TransportMaker;
  #transport: Transport | null = null;

  constructor(share: PortShare, key: string, maker: TransportMaker) {
    this.#share = share;
    this.#key = key;
    this.#maker = maker;
  }

  get title(): string {
    return this.#transport?.title ?? '';
  }

  open(events: TransportEvents): void {
    this.#transport = this.#share.attach(this.#key, this.#maker, this, events);
  }

  write(bytes: Uint8Array): void {
    this.#transport?.write(bytes);
  }

  async leadSigns(): Promise<LeadSigns> {
    return (await this.#transport?.leadSigns?.()) ?? NO_SIGNS;
  }

  close(): Promise<void> {
    return this.#share.detach(this.#key, this);
  }
}

/** What must be the same for two to share: the place, and how its line is set. Pure. */
export function shareKeyOf(
  source: LinkSource,
  shape: Pick<LineShape, 'port' | 'signals'> | null,
): string | null {
  switch (source.kind) {
    case 'serial':
      return JSON.stringify([
        source.identity ?? source.path,
        source.settings ?? shape?.port,
        shape?.signals,
      ]);
    case 'tcp':
      return JSON.stringify([source.host, source.port]);
    case 'modbus rtu':
      return JSON.stringify([
        source.kind,
        source.identity ?? source.path,
        source.settings ?? MODBUS_PORT.port,
        source.lines ?? MODBUS_PORT.signals,
      ]);
    default:
      return null;
  }
}
