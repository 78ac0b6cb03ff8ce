import type { Fault } from '@taptrue/protocol';
import { type LeadSigns, NO_SIGNS, type Transport } from '../transport/transport.ts';
import { sameTuning, type Tuning } from './settings-tried.ts';

export interface EarEvents {
  /** Open with the settings asked for; bytes from here on were heard with them. */
  ready(): void;
  bytes(chunk: Uint8Array): void;
  /** Not open, or no longer. */
  failed(fault: Fault): void;
}

/** Opens a fresh transport with these settings. */
export type TransportFor = (tuning: Tuning) => Transport;

/** One port that is listened to with one setting after another. Never two transports open at once. */
export class Ear {
  readonly #transportFor: TransportFor;
  #transport: Transport | null = null;
  #tuning: Tuning | null = null;
  #open = false;
  #events: EarEvents | null = null;

  constructor(transportFor: TransportFor) {
    this.#transportFor = transportFor;
  }

  /** From now on events go to `events` only. A port that is set so already is not opened again. */
  tune(tuning: Tuning, events: EarEvents): void {
    this.#events = events;
    if (this.#open && this.#tuning && sameTuning(this.#tuning, tuning)) {
      events.ready();
      return;
    }
    const before = this.#letGo();
    if (before === null) this.#begin(tuning);
    else void before.then(() => this.#events === events && this.#begin(tuning));
  }

  write(bytes: Uint8Array): void {
    if (this.#open) this.#transport?.write(bytes);
  }

  /** What the port tells of its lead now. Never rejects. */
  async leadSigns(): Promise<LeadSigns> {
    return (this.#open && (await this.#transport?.leadSigns?.())) || NO_SIGNS;
  }

  /** Nothing is told any more; resolves once the port is let go. */
  async close(): Promise<void> {
    this.#events = null;
    await this.#letGo();
  }

  #letGo(): Promise<void> | null {
    const transport = this.#transport;
    this.#transport = null;
    this.#open = false;
    this.#tuning = null;
    return transport?.close() ?? null;
  }

  #begin(tuning: Tuning): void {
    const transport = this.#transportFor(tuning);
    this.#transport = transport;
    this.#tuning = tuning;
    const isMine = () => this.#transport === transport;
    transport.open({
      opened: () => {
        if (!isMine()) return;
        this.#open = true;
        this.#events?.ready();
      },
      bytes: (chunk) => isMine() && this.#events?.bytes(chunk),
      closed: (fault) => {
        if (!isMine()) return;
        this.#transport = null;
        this.#open = false;
        this.#events?.failed(fault ?? endedFault(transport.title));
      },
    });
  }
}

function endedFault(title: string): Fault {
  return {
    code: 'connection-lost',
    what: `The connection to ${title} ended.`,
    got: '',
    remedy: 'Check its cable, and find again.',
  };
}
