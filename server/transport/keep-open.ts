import type {
  Fault,
  LineShape,
  LinkConfig,
  LinkName,
  LinkReport,
  LinkState,
  Reading,
} from '@taptrue/protocol';
import { AskInTurn } from './ask-in-turn.ts';
import { type Clock, OneTimer } from './clock.ts';
import { explainPortError } from './explain-port-error.ts';
import { judgeLine } from './judge-line.ts';
import {
  type LinkNames,
  lostFault,
  notUnderstoodFault,
  openingHangsFault,
  silentFault,
} from './link-faults.ts';
import { IdleProof } from './prove-idle.ts';
import { LineReader } from './read-line.ts';
import { ReadingRate } from './reading-rate.ts';
import { retryDelayMs } from './retry-delay.ts';
import type { Transport, TransportMaker } from './transport.ts';

export interface LinkOptions {
  name: LinkName;
  config: LinkConfig;
  maker: TransportMaker;
  shape: LineShape;
  clock: Clock;
  onReading(reading: Reading): void;
  onReport(report: LinkReport): void;
  /** A streaming line without a reading for this long is silent or not understood. */
  silentAfterMs?: number;
}

const SILENT_AFTER_MS = 1000;
/** Longer than any driver or connection takes that will succeed at all. */
const OPENING_WITHIN_MS = 5000;
/** Counters and rate are reported four times a second; a change of state at once. */
const REPORT_EVERY_MS = 250;
/** Open for this long without falling shut again: the next trouble is a new one. */
const STEADY_AFTER_MS = 2000;
/** While a lost device is looked for, these only say that it is still away. */
const STILL_AWAY = new Set([
  'port-not-found',
  'port-gone',
  'connection-refused',
  'connection-timed-out',
  'connection-lost',
  'host-not-found',
]);

/**
 * One device kept open: bytes to readings, and a state for everything that can be wrong with its line.
 * Holds the only reconnect timer there is. Readings are given only where a whole frame was understood, on
 * the channel and in the unit that were set.
 */
export class Link {
  private state: LinkState = 'not set';
  private fault: Fault | null = null;
  private readonly silentAfterMs: number;
  private readonly line: LineReader;
  private readonly rate = new ReadingRate();
  private readonly asker: AskInTurn;
  private readonly idleProof: IdleProof;
  private readonly retryTimer: OneTimer;
  private readonly openingTimer: OneTimer;
  private readonly watchTimer: OneTimer;
  private readonly reportTimer: OneTimer;

  private transport: Transport | null = null;
  private title = '';
  private failures = 0;
  private everOpen = false;
  private openedAtMs: number | null = null;
  private unreported = false;

  constructor(private readonly options: LinkOptions) {
    const { clock, shape } = options;
    this.silentAfterMs = options.silentAfterMs ?? SILENT_AFTER_MS;
    this.line = new LineReader(shape, () => this.names(), {
      frame: () => this.asker.answered(),
      reading: (reading) => {
        if (this.transport === null) return;
        this.enter('live', null);
        options.onReading(reading);
      },
      // At once: the number on the screen is no longer what the device shows.
      unitRefused: (fault) => this.transport && this.enter('not understood', fault),
    });
    this.idleProof = new IdleProof(clock);
    this.retryTimer = new OneTimer(clock);
    this.openingTimer = new OneTimer(clock);
    this.watchTimer = new OneTimer(clock);
    this.reportTimer = new OneTimer(clock);
    this.asker = new AskInTurn({
      clock,
      everyMs: shape.trigger === 'asked' ? (shape.request?.everyMs ?? null) : null,
      send: () => this.sendRequest(),
      unanswered: () => this.line.lineFellSilent(),
    });
  }

  /** Opens, and from then on keeps trying until closed. */
  open(): void {
    if (this.state !== 'not set') return;
    this.enter('opening', null);
    this.rate.restart(this.options.clock.now(), 0);
    this.reportTimer.set(REPORT_EVERY_MS, () => this.reportTick());
    this.tryOpening();
  }

  /** Closes for good; resolves once the port is let go. No reading or report comes after. */
  async close(): Promise<void> {
    if (this.state === 'not set') return;
    const { transport } = this;
    this.transport = null;
    this.stopTimers();
    this.retryTimer.clear();
    this.reportTimer.clear();
    this.enter('not set', null);
    await transport?.close();
  }

  /** Asks for one reading now. False where this device cannot be asked or is not open. */
  askNow(): boolean {
    if (this.options.shape.request === null || this.openedAtMs === null) return false;
    this.asker.askNow();
    return true;
  }

  report(): LinkReport {
    const { config, shape } = this.options;
    return {
      state: this.state,
      config,
      simulated: config.source.kind === 'simulated',
      trigger: shape.trigger,
      readingsPerSecond: this.rate.perSecond,
      lastText: this.line.lastText,
      counters: { ...this.line.counters },
      fault: this.fault,
    };
  }

  private tryOpening(): void {
    try {
      this.openWith(this.options.maker());
    } catch (error) {
      this.closed(explainPortError(error, { title: this.names().title, system: process.platform }));
    }
  }

  private openWith(transport: Transport): void {
    this.transport = transport;
    this.title = transport.title;
    const isMine = () => this.transport === transport;
    this.openingTimer.set(OPENING_WITHIN_MS, () => {
      this.closed(openingHangsFault(this.names(), OPENING_WITHIN_MS));
      void transport.close();
    });
    transport.open({
      opened: (atMs) => isMine() && this.opened(atMs),
      bytes: (chunk, atMs) => isMine() && this.bytes(chunk, atMs),
      closed: (fault) => isMine() && this.closed(fault),
    });
  }

  private opened(atMs: number): void {
    const { shape } = this.options;
    this.openingTimer.clear();
    if (this.everOpen) this.line.counters.reconnects += 1;
    this.everOpen = true;
    this.openedAtMs = atMs;
    this.line.begin();
    this.idleProof.begin((idle) => {
      // A stream loses nothing by waiting for its next line; a key press or an answer must not be lost.
      if (idle && shape.trigger !== 'streams') this.line.lineWasIdle();
      this.asker.start();
    });
    this.watchTimer.set(this.silentAfterMs, () => this.judge());
    this.enter(shape.trigger === 'its own key' ? 'waiting for its key' : 'opening', null);
  }

  private closed(cause: Fault | null): void {
    const nowMs = this.options.clock.now();
    const wasOpenMs = this.openedAtMs === null ? null : nowMs - this.openedAtMs;
    this.stopTimers();
    this.transport = null;
    this.openedAtMs = null;
    this.line.end();
    if (wasOpenMs !== null && wasOpenMs >= STEADY_AFTER_MS) this.failures = 0;
    this.failures += 1;
    const fault = lostFault(this.names(), cause);
    if (wasOpenMs !== null) this.enter('lost', fault);
    else if (this.state !== 'lost' || !STILL_AWAY.has(fault.code)) this.enter('refused', fault);
    this.retryTimer.set(retryDelayMs(this.failures), () => this.tryOpening());
  }

  private bytes(chunk: Uint8Array, atMs: number): void {
    this.unreported = true;
    this.idleProof.bytesCame();
    if (!this.watchTimer.isSet) this.watchTimer.set(this.silentAfterMs, () => this.judge());
    this.line.bytes(chunk, atMs);
  }

  private judge(): void {
    if (this.openedAtMs === null) return;
    const { line, silentAfterMs } = this;
    const nowMs = this.options.clock.now();
    const sendsByKey = this.options.shape.trigger === 'its own key';
    const quietMs = nowMs - (line.lastBytesAtMs ?? this.openedAtMs);
    if (quietMs >= silentAfterMs) line.lineFellSilent();
    const judgement = judgeLine({
      nowMs,
      openedAtMs: this.openedAtMs,
      lastBytesAtMs: line.lastBytesAtMs,
      lastReadingAtMs: line.lastReadingAtMs,
      missedSinceMs: line.missedSinceMs,
      silentAfterMs,
      sendsByKey,
    });
    switch (judgement.kind) {
      case 'in time':
        this.watchTimer.set(judgement.lookAgainInMs, () => this.judge());
        return;
      case 'not understood':
        this.enter('not understood', line.missFault?.() ?? notUnderstoodFault(this.names(), ''));
        if (!sendsByKey) this.watchTimer.set(silentAfterMs, () => this.judge());
        return;
      case 'silent':
        this.enter('silent', silentFault(this.names(), silentAfterMs));
        return;
      case 'waiting for its key':
        this.enter('waiting for its key', null);
    }
  }

  private sendRequest(): void {
    const { request } = this.options.shape;
    if (request !== null) this.transport?.write(Buffer.from(request.text, 'latin1'));
  }

  private enter(state: LinkState, fault: Fault | null): void {
    if (this.state === state && this.fault?.code === fault?.code) return;
    this.state = state;
    this.fault = fault;
    this.sendReport();
  }

  private reportTick(): void {
    const before = this.rate.perSecond;
    this.rate.tick(this.options.clock.now(), this.line.readings);
    if (this.unreported || this.rate.perSecond !== before) this.sendReport();
    this.reportTimer.set(REPORT_EVERY_MS, () => this.reportTick());
  }

  private sendReport(): void {
    this.unreported = false;
    this.options.onReport(this.report());
  }

  private stopTimers(): void {
    this.openingTimer.clear();
    this.watchTimer.clear();
    this.idleProof.stop();
    this.asker.stop();
  }

  private names(): LinkNames {
    const { name, shape, config } = this.options;
    return { device: name, title: this.title || `the ${name}`, shape, config };
  }
}
