import type { Fault, LineShape, LinkConfig, LinkName } from '@taptrue/protocol';
import { AskInTurn } from './ask-in-turn.ts';
import { type Clock, OneTimer } from './clock.ts';
import {
  type LinkNames,
  notUnderstoodFault,
  siftedFault,
  silentFault,
  tooLongFault,
} from './link-faults.ts';
import { IdleProof } from './prove-idle.ts';
import { LineReader } from './read-line.ts';
import type { ReadingSource } from './source.ts';
import type { SourceEvents } from './source-events.ts';
import { ReadingIntake } from './take-readings.ts';
import type { LeadSigns, Transport, TransportMaker } from './transport.ts';

export interface LineSourceOptions {
  name: LinkName;
  config: LinkConfig;
  maker: TransportMaker;
  shape: LineShape;
  clock: Clock;
}

/** A streaming line of the usual three to ten readings a second that says nothing for this long has stopped. */
const SILENT_AFTER_MS = 1000;

/** After opening, until the status lines are looked at: a lead fed by DTR and RTS has charged by then. */
const LEAD_SHOWS_AFTER_MS = 500;

/** A device that speaks lines: bytes of a port, socket or simulator, read by a line shape. */
export class LineSource implements ReadingSource {
  readonly trigger: LineShape['trigger'];
  readonly silentAfterMs = SILENT_AFTER_MS;
  readonly intake: ReadingIntake;
  private readonly line: LineReader;
  private readonly asker: AskInTurn;
  private readonly idleProof: IdleProof;
  private readonly leadTimer: OneTimer;
  /** What the port told of its lead in this try; null: nothing, or the device has spoken and so has power. */
  private lead: LeadSigns | null = null;
  private spoke = false;
  private lastTitle: string;
  private transport: Transport | null = null;
  private events: SourceEvents | null = null;
  private isOpen = false;

  constructor(private readonly options: LineSourceOptions) {
    const { clock, shape, name, config } = options;
    this.trigger = shape.trigger;
    this.lastTitle = `the ${name}`;
    this.intake = new ReadingIntake({
      config,
      events: () => this.events,
      siftedFault: (sifted, text) => siftedFault(this.names(), sifted, text),
    });
    this.line = new LineReader({
      shape,
      intake: this.intake,
      onFrame: () => this.asker.answered(),
      notUnderstood: (text) => notUnderstoodFault(this.names(), text),
      tooLong: (longestBytes, text) => tooLongFault(this.names(), longestBytes, text),
    });
    this.idleProof = new IdleProof(clock);
    this.leadTimer = new OneTimer(clock);
    this.asker = new AskInTurn({
      clock,
      everyMs: shape.trigger === 'asked' ? (shape.request?.everyMs ?? null) : null,
      send: () => this.sendRequest(),
      unanswered: () => this.unanswered(),
    });
  }

  /** A port that is shared, or looked for by its device, has its name only once it is open. */
  get title(): string {
    return this.transport?.title || this.lastTitle;
  }

  open(events: SourceEvents): void {
    const transport = this.options.maker();
    this.transport = transport;
    this.events = events;
    const isMine = () => this.transport === transport;
    transport.open({
      opened: (atMs) => isMine() && this.opened(atMs),
      bytes: (chunk, atMs) => isMine() && this.bytes(chunk, atMs),
      closed: (fault) => isMine() && this.closed(fault),
    });
  }

  askNow(): boolean {
    if (this.options.shape.request === null || !this.isOpen) return false;
    this.asker.askNow();
    return true;
  }

  fellSilent(): void {
    this.line.lineFellSilent();
  }

  silentFault(silentAfterMs: number): Fault {
    return silentFault(this.names(), silentAfterMs, this.lead);
  }

  notUnderstoodFault(): Fault {
    return notUnderstoodFault(this.names(), '');
  }

  async close(): Promise<void> {
    const { transport } = this;
    this.forget();
    await transport?.close();
  }

  private opened(atMs: number): void {
    const { shape } = this.options;
    this.isOpen = true;
    this.spoke = false;
    this.line.begin();
    this.idleProof.begin((idle) => {
      // A stream loses nothing by waiting for its next line; a key press or an answer must not be lost.
      if (idle && shape.trigger !== 'streams') this.line.lineWasIdle();
      this.asker.start();
    });
    this.leadTimer.set(LEAD_SHOWS_AFTER_MS, () => this.lookAtLead());
    this.events?.opened(atMs);
  }

  private lookAtLead(): void {
    const { transport } = this;
    if (this.spoke) return;
    void transport?.leadSigns?.().then((lead) => {
      if (this.transport === transport && !this.spoke) this.lead = lead;
    });
  }

  private bytes(chunk: Uint8Array, atMs: number): void {
    this.idleProof.bytesCame();
    this.spoke = true;
    this.lead = null;
    this.intake.log.bytes(chunk);
    this.line.bytes(chunk, atMs);
  }

  private closed(cause: Fault | null): void {
    const { events } = this;
    this.forget();
    this.line.end();
    events?.closed(cause);
  }

  private forget(): void {
    this.lastTitle = this.title;
    this.transport = null;
    this.events = null;
    this.isOpen = false;
    this.idleProof.stop();
    this.leadTimer.clear();
    this.lead = null;
    this.asker.stop();
  }

  private unanswered(): void {
    this.intake.counters.unanswered += 1;
    this.line.lineFellSilent();
  }

  private sendRequest(): void {
    const { request } = this.options.shape;
    if (request !== null) this.transport?.write(Buffer.from(request.text, 'latin1'));
  }

  private names(): LinkNames {
    const { name, shape, config } = this.options;
    return { device: name, title: this.title, shape, config };
  }
}
