import {
  type Change,
  checkerOf,
  type Hello,
  type Painted,
  REPLAY_GONE_CODE,
  ServiceMessage,
  speaksOurVersion,
} from '@taptrue/protocol';
import { retryDelayMs } from './retry-delay.ts';

/** A socket that has not opened by then never will: some stay in CONNECTING for ever. */
export const CONNECT_TIMEOUT_MS = 4_000;
/** The service says "still here" every second; three missed and the connection counts as lost. */
export const LAST_HEARD_LIMIT_MS = 3_000;
const WATCH_EVERY_MS = 500;

export type Connection =
  | { kind: 'connecting' }
  | { kind: 'connected' }
  | { kind: 'lost'; why: string }
  | { kind: 'other version'; theirs: string };

export interface LiveSocketListener {
  onHello(hello: Hello): void;
  onChange(change: Change): void;
  onConnection(connection: Connection): void;
}

export interface SocketSurroundings {
  nowMs(): number;
  random(): number;
}

const browserSurroundings: SocketSurroundings = {
  nowMs: () => performance.now(),
  random: () => Math.random(),
};

const serviceMessage = checkerOf(ServiceMessage);

/**
 * The page's one connection to the service. Connects, watches that it is spoken to, and connects again by
 * itself for as long as it is open. Every connection starts with a whole Hello, so nothing is ever resumed
 * from memory: what the page shows after a gap is what the service says now.
 */
export class LiveSocket {
  /** Messages that were not of the protocol; shown on the Devices place. */
  messagesNotUnderstood = 0;

  private socket: WebSocket | null = null;
  private attempt = 0;
  private lastHeardMs = 0;
  private heardHello = false;
  private retryTimer: ReturnType<typeof setTimeout> | null = null;
  private watchTimer: ReturnType<typeof setInterval> | null = null;

  private readonly url: string;
  private readonly listener: LiveSocketListener;
  private readonly surroundings: SocketSurroundings;

  constructor(
    url: string,
    listener: LiveSocketListener,
    surroundings: SocketSurroundings = browserSurroundings,
  ) {
    this.url = url;
    this.listener = listener;
    this.surroundings = surroundings;
  }

  open(): void {
    if (this.watchTimer !== null) return;
    this.watchTimer = setInterval(() => this.watch(), WATCH_EVERY_MS);
    this.connect();
  }

  close(): void {
    if (this.watchTimer !== null) clearInterval(this.watchTimer);
    if (this.retryTimer !== null) clearTimeout(this.retryTimer);
    this.watchTimer = null;
    this.retryTimer = null;
    this.drop();
  }

  /** Tries at once instead of waiting; for pairing, which changes the role, and for a tab shown again. */
  connectNow(): void {
    this.drop();
    this.attempt = 0;
    this.connect();
  }

  sendPainted(painted: Painted): void {
    if (this.heardHello && this.socket?.readyState === WebSocket.OPEN) {
      this.socket.send(JSON.stringify(painted));
    }
  }

  private connect(): void {
    if (this.retryTimer !== null) clearTimeout(this.retryTimer);
    this.retryTimer = null;
    this.lastHeardMs = this.surroundings.nowMs();
    this.heardHello = false;
    const socket = new WebSocket(this.url);
    this.socket = socket;
    socket.addEventListener('message', (event) => {
      if (this.socket === socket) this.hear(String(event.data));
    });
    socket.addEventListener('close', ({ code }) => {
      if (this.socket !== socket) return;
      this.lose('The service closed the connection.');
      // What is closed for good is not knocked at again.
      if (code === REPLAY_GONE_CODE) this.close();
    });
  }

  private hear(text: string): void {
    this.lastHeardMs = this.surroundings.nowMs();
    const message = serviceMessage.parse(text);
    if (!message.ok) {
      this.messagesNotUnderstood += 1;
      this.refuseOtherVersion(text);
      return;
    }
    if (message.value.type === 'hello') {
      if (!speaksOurVersion(message.value.version)) {
        this.listener.onConnection({ kind: 'other version', theirs: message.value.version });
        return;
      }
      this.attempt = 0;
      this.heardHello = true;
      this.listener.onHello(message.value);
      this.listener.onConnection({ kind: 'connected' });
    } else if (message.value.type === 'change' && this.heardHello) {
      this.listener.onChange(message.value);
    }
  }

  /** A hello of another version rarely passes our check; its version is still worth reading. */
  private refuseOtherVersion(text: string): void {
    const theirs = /"type":"hello"[^{]*"version":"([^"]{1,20})"/.exec(text)?.[1];
    if (theirs !== undefined && !speaksOurVersion(theirs)) {
      this.listener.onConnection({ kind: 'other version', theirs });
    }
  }

  private watch(): void {
    if (this.socket === null) return;
    const silentMs = this.surroundings.nowMs() - this.lastHeardMs;
    if (this.socket.readyState === WebSocket.CONNECTING) {
      if (silentMs > CONNECT_TIMEOUT_MS) this.lose('The service does not answer.');
    } else if (silentMs > LAST_HEARD_LIMIT_MS) {
      this.lose(`Nothing was heard from the service for ${LAST_HEARD_LIMIT_MS / 1000} s.`);
    }
  }

  private lose(why: string): void {
    this.drop();
    this.listener.onConnection({ kind: 'lost', why });
    const waitMs = retryDelayMs(this.attempt, this.surroundings.random());
    this.attempt += 1;
    this.retryTimer = setTimeout(() => this.connect(), waitMs);
  }

  private drop(): void {
    const socket = this.socket;
    this.socket = null;
    this.heardHello = false;
    socket?.close();
  }
}
