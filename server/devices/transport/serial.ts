import type { Fault, PortSettings } from '@taptrue/protocol';
import { SerialPort } from 'serialport';
import { explainPortError } from './explain-port-error.ts';
import { type PortFacts, portFacts } from './port-facts.ts';
import { openableName } from './port-name.ts';
import type { LeadSigns, StatusLines, Transport, TransportEvents } from './transport.ts';
import { within } from './within.ts';

export interface SerialOptions {
  path: string;
  settings: PortSettings;
  /** Levels of DTR and RTS once open. */
  signals: { dtr: boolean; rts: boolean };
  /** Leaves DTR as it is when closing, so that opening again at once resets no device. */
  keepsLines?: boolean;
  /** Monotonic, milliseconds. */
  now: () => number;
  /** Another binding than the system's, for a test. */
  binding?: typeof SerialPort.binding;
  system?: string;
  /** Looked up where the port will not open; usual: this machine's. */
  facts?: (path: string) => Promise<PortFacts>;
}

/** Requests are a few bytes each; more waiting than this means that the device does not take them. */
const LONGEST_WRITE_QUEUE_BYTES = 256;
const CLOSE_WITHIN_MS = 1000;

/** Bytes of one serial port. */
export class SerialTransport implements Transport {
  readonly title: string;
  /** Writes left out because the device does not take what was written before. */
  writesDropped = 0;
  private port: SerialPort | null = null;
  private events: TransportEvents | null = null;
  private finished = false;
  private setsLines = true;
  /** Resolves once opening has succeeded or failed: closing before that would leave the port locked. */
  private opening: Promise<void> = Promise.resolve();

  constructor(private readonly options: SerialOptions) {
    this.title = options.path;
  }

  open(events: TransportEvents): void {
    this.events = events;
    const { settings, binding, keepsLines = false } = this.options;
    const system = this.options.system ?? process.platform;
    const path = openableName(this.options.path, system);
    // On Windows the same option would lower DTR on opening, which is what is to be avoided.
    const hupcl = !keepsLines || system === 'win32';
    const portOptions = { path, ...settings, hupcl, autoOpen: false, ...(binding && { binding }) };
    let port: SerialPort;
    try {
      port = new SerialPort(portOptions);
    } catch (error) {
      this.finish(this.explain(error));
      return;
    }
    this.port = port;
    // Attached before anything else and never taken off: without a data listener the other end's
    // going was not noticed in 3 s, with one in 1 to 7 ms (measured).
    port.on('data', (chunk: Buffer) => {
      if (!this.finished) events.bytes(chunk, this.options.now());
    });
    port.on('error', (error) => this.finish(this.explain(error)));
    port.on('close', (error: Error | null) => this.finish(error && this.explain(error)));
    // A port that gives nought bytes ends its stream and never says "close".
    port.on('end', () => this.finish(this.explain(new Error('input/output error, nothing read'))));
    this.opening = new Promise((resolve) => {
      port.open((error) => {
        resolve();
        if (error) void this.finishUnopened(error);
        else if (this.finished) void this.letGo();
        else this.begin(port, events);
      });
    });
  }

  write(bytes: Uint8Array): void {
    const { port } = this;
    if (this.finished || port === null || !port.isOpen) return;
    if (port.writableLength > LONGEST_WRITE_QUEUE_BYTES) {
      this.writesDropped += 1;
      return;
    }
    port.write(Buffer.from(bytes));
  }

  async leadSigns(): Promise<LeadSigns> {
    const status = await this.statusLines().catch(() => null);
    return { setsLines: this.setsLines, status };
  }

  async close(): Promise<void> {
    this.finish(null);
    await within(this.opening, CLOSE_WITHIN_MS);
    await this.letGo();
  }

  private begin(port: SerialPort, events: TransportEvents): void {
    events.opened(this.options.now());
    // A pseudo-terminal and some adapters refuse modem lines (ENOTTY). They then cannot be set, which is
    // no reason to close: where the device needed them, silence says so.
    if (port.isOpen) {
      port.set(this.options.signals, (error) => {
        if (error) this.setsLines = false;
      });
    }
  }

  private statusLines(): Promise<StatusLines | null> {
    const { port } = this;
    if (this.finished || port?.isOpen !== true) return Promise.resolve(null);
    return new Promise((resolve) => {
      port.get((error, status) => {
        const { cts = false, dsr = false, dcd = false } = status ?? {};
        resolve(error || !status ? null : { cts, dsr, dcd });
      });
    });
  }

  private async letGo(): Promise<void> {
    const { port } = this;
    if (port?.isOpen !== true) return;
    await within(new Promise<void>((resolve) => port.close(() => resolve())), CLOSE_WITHIN_MS);
  }

  private finish(fault: Fault | null): void {
    if (this.finished) return;
    this.finished = true;
    void this.letGo();
    this.events?.closed(fault, this.options.now());
  }

  /** Why it would not open is worth a look at who may and who has it open. */
  private async finishUnopened(error: unknown): Promise<void> {
    const { path, facts = portFacts } = this.options;
    const known = await facts(path).catch(() => undefined);
    this.finish(this.explain(error, known));
  }

  private explain(error: unknown, facts?: PortFacts): Fault {
    const { path, system } = this.options;
    return explainPortError(error, {
      title: path,
      system: system ?? process.platform,
      ...(facts && { facts }),
    });
  }
}
