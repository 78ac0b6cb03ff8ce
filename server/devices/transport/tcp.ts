import { createConnection, type Socket } from 'node:net';
import type { Fault } from '@taptrue/protocol';
import { explainPortError } from './explain-port-error.ts';
import type { Transport, TransportEvents } from './transport.ts';

export interface TcpOptions {
  host: string;
  port: number;
  /** Monotonic, milliseconds. */
  now: () => number;
  connectWithinMs?: number;
}

/** A device server in the same building answers in milliseconds; three seconds cover a slow radio link. */
const CONNECT_WITHIN_MS = 3000;
/** A peer that vanished without a word is asked after this; the system then gives up by itself. */
const KEEP_ALIVE_AFTER_MS = 1000;
const LONGEST_WRITE_QUEUE_BYTES = 256;

/** Bytes of one raw TCP socket, as a serial device server offers them. */
export class TcpTransport implements Transport {
  readonly title: string;
  /** Writes left out because the peer does not take what was written before. */
  writesDropped = 0;
  private socket: Socket | null = null;
  private events: TransportEvents | null = null;
  private finished = false;
  private connectDeadline: NodeJS.Timeout | undefined;

  constructor(private readonly options: TcpOptions) {
    const host = options.host.includes(':') ? `[${options.host}]` : options.host;
    this.title = `tcp://${host}:${options.port}`;
  }

  open(events: TransportEvents): void {
    this.events = events;
    const { host, port, now } = this.options;
    let socket: Socket;
    try {
      // noDelay: a reading of 12 bytes must not wait for the next one to fill a packet.
      socket = createConnection({
        host,
        port,
        noDelay: true,
        keepAlive: true,
        keepAliveInitialDelay: KEEP_ALIVE_AFTER_MS,
      });
    } catch (error) {
      this.finish(this.explain(error));
      return;
    }
    this.socket = socket;
    this.connectDeadline = setTimeout(() => {
      const said = `no answer in ${this.options.connectWithinMs ?? CONNECT_WITHIN_MS} ms`;
      this.finish(this.explain(Object.assign(new Error(said), { code: 'ETIMEDOUT' })));
    }, this.options.connectWithinMs ?? CONNECT_WITHIN_MS);
    socket.on('connect', () => {
      clearTimeout(this.connectDeadline);
      if (!this.finished) events.opened(now());
    });
    socket.on('data', (chunk) => {
      if (!this.finished) events.bytes(Buffer.from(chunk), now());
    });
    socket.on('error', (error) => this.finish(this.explain(error)));
    socket.on('end', () => this.finish(this.hungUp()));
    socket.on('close', () => this.finish(this.hungUp()));
  }

  write(bytes: Uint8Array): void {
    const { socket } = this;
    if (this.finished || socket === null || socket.connecting) return;
    if (socket.writableLength > LONGEST_WRITE_QUEUE_BYTES) {
      this.writesDropped += 1;
      return;
    }
    socket.write(bytes);
  }

  async close(): Promise<void> {
    this.finish(null);
  }

  private finish(fault: Fault | null): void {
    if (this.finished) return;
    this.finished = true;
    clearTimeout(this.connectDeadline);
    this.socket?.destroy();
    this.events?.closed(fault, this.options.now());
  }

  private hungUp(): Fault {
    return this.explain(
      Object.assign(new Error('the other end closed the connection'), { code: 'ECONNRESET' }),
    );
  }

  private explain(error: unknown): Fault {
    return explainPortError(error, { title: this.title, system: process.platform });
  }
}
