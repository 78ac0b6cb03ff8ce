import { type AccessSection, PROTOCOL_VERSION, type Role } from '@taptrue/protocol';
import type { SectionStore } from '../state/section-store.ts';
import { ClientLag } from './client-lag.ts';

/** A quiet bench says so this often, so that a page can tell quiet from dead. */
const STILL_HERE_EVERY_MS = 1000;
/** More screens than this are refused; a bench has a handful. */
export const MOST_SCREENS = 32;

/** What the hub needs of a socket. `live-socket.ts` is the only maker of these. */
export interface Screen {
  readonly role: Role;
  bufferedBytes(): number;
  send(text: string): void;
  cut(): void;
}

interface Client {
  screen: Screen;
  lag: ClientLag;
  sentSequence: number;
  accessRevision: number;
  timer: NodeJS.Timeout | null;
}

/**
 * Sends one state to every screen: changed sections, whole, latest only, at most 60 messages a second each.
 * Section text is made once and shared. A slow screen never delays another and never gets a queue.
 */
export class Hub {
  readonly #store: SectionStore;
  readonly #now: () => number;
  readonly #clients = new Set<Client>();
  readonly #stopListening: () => void;
  readonly #heartbeat: NodeJS.Timeout;
  #access: AccessSection;
  #accessRevision = 0;
  #cut = 0;

  constructor(store: SectionStore, access: AccessSection, now: () => number) {
    this.#store = store;
    this.#access = access;
    this.#now = now;
    this.#stopListening = store.onChange(() => this.#flushAll());
    this.#heartbeat = setInterval(() => this.#beat(), STILL_HERE_EVERY_MS);
    this.#heartbeat.unref();
  }

  get screens(): number {
    return this.#clients.size;
  }

  /** Screens cut because they painted nothing for too long. */
  get screensCut(): number {
    return this.#cut;
  }

  /** Greets a screen with the whole state. Gives what to call with its acknowledgements and at its end. */
  join(screen: Screen): { painted(sequence: number, visible: boolean): void; leave(): void } {
    const nowMs = this.#now();
    const client: Client = {
      screen,
      lag: new ClientLag(nowMs),
      sentSequence: this.#store.sequence,
      accessRevision: this.#accessRevision,
      timer: null,
    };
    this.#clients.add(client);
    screen.send(
      JSON.stringify({
        type: 'hello',
        version: PROTOCOL_VERSION,
        role: screen.role,
        sequence: this.#store.sequence,
        state: this.#store.state,
        access: screen.role === 'bench screen' ? this.#access : null,
      }),
    );
    client.lag.sent(this.#store.sequence, nowMs);
    return {
      painted: (sequence, visible) => {
        // A last word from a screen that is cut already must not start a timer for it.
        if (!this.#clients.has(client)) return;
        client.lag.painted(sequence, visible, this.#now());
        this.#flush(client);
      },
      leave: () => this.#forget(client),
    };
  }

  /** Who may command changed; only bench screens are told. */
  setAccess(access: AccessSection): void {
    this.#access = access;
    this.#accessRevision += 1;
    this.#flushAll();
  }

  /** Cuts the screens of one role; their pages connect again and are greeted by what they may do now. */
  cutScreens(role: Role): void {
    for (const client of this.#clients) {
      if (client.screen.role !== role) continue;
      this.#forget(client);
      client.screen.cut();
    }
  }

  close(): void {
    clearInterval(this.#heartbeat);
    this.#stopListening();
    for (const client of this.#clients) {
      this.#forget(client);
      client.screen.cut();
    }
  }

  #forget(client: Client): void {
    if (client.timer) clearTimeout(client.timer);
    client.timer = null;
    this.#clients.delete(client);
  }

  #flushAll(): void {
    for (const client of this.#clients) this.#flush(client);
  }

  #flush(client: Client): void {
    if (client.timer || !this.#hasNews(client)) return;
    const nowMs = this.#now();
    const waitMs = client.lag.waitMs(nowMs);
    if (waitMs > 0) {
      client.timer = setTimeout(() => {
        client.timer = null;
        this.#flush(client);
      }, waitMs);
      return;
    }
    switch (client.lag.advise(nowMs, client.screen.bufferedBytes())) {
      case 'send':
        this.#send(client, nowMs);
        break;
      case 'cut':
        this.#cut += 1;
        this.#forget(client);
        client.screen.cut();
        break;
      case 'wait':
        break;
    }
  }

  #hasNews(client: Client): boolean {
    return client.sentSequence < this.#store.sequence || this.#accessNews(client);
  }

  #accessNews(client: Client): boolean {
    return client.screen.role === 'bench screen' && client.accessRevision < this.#accessRevision;
  }

  #send(client: Client, nowMs: number): void {
    const sequence = this.#store.sequence;
    const sections = this.#store
      .changedSince(client.sentSequence)
      .map((name) => this.#store.text(name));
    const access = this.#accessNews(client) ? `,"access":${JSON.stringify(this.#access)}` : '';
    client.screen.send(
      `{"type":"change","sequence":${Math.max(sequence, 1)},"skipped":${client.lag.skipped},"state":{${sections.join(',')}}${access}}`,
    );
    client.lag.sent(sequence, nowMs);
    client.sentSequence = sequence;
    client.accessRevision = this.#accessRevision;
  }

  #beat(): void {
    for (const client of this.#clients) {
      if (this.#hasNews(client)) this.#flush(client);
      else if (client.screen.bufferedBytes() === 0) {
        client.screen.send(`{"type":"still here","sequence":${this.#store.sequence}}`);
      }
    }
  }
}
