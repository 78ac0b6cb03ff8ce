import type {
  Fault,
  LinkConfig,
  LinkName,
  LinkReport,
  LinkState,
  Reading,
} from '@taptrue/protocol';
import { hexOfText } from '../formats/hex-of-text.ts';
import { type Clock, OneTimer } from './clock.ts';
import { explainPortError } from './explain-port-error.ts';
import { judgeLine } from './judge-line.ts';
import { lostFault, openingHangsFault } from './link-faults.ts';
import { ReadingRate } from './reading-rate.ts';
import { retryDelayMs } from './retry-delay.ts';
import type { ReadingSource } from './source.ts';
import type { SourceEvents } from './source-events.ts';

export interface LinkOptions {
  name: LinkName;
  config: LinkConfig;
  source: ReadingSource;
  clock: Clock;
  onReading(reading: Reading): void;
  /** Readings of `config.secondChannel`, where one is set: another axis of the same device. */
  onSecond?(reading: Reading): void;
  /** Came and gave no reading; its text as it came. */
  onUnread?(text: string): void;
  onReport(report: LinkReport): void;
}

/** Longer than any driver or connection takes that will succeed at all. */
const OPENING_WITHIN_MS = 5000;
/** Counters and rate are reported four times a second; a change of state at once. */
const REPORT_EVERY_MS = 250;
/** Where nothing comes, how long ago the last reading came is still told, once a second. */
const TICKS_BETWEEN_AGES = 4;
/** Open for this long without falling shut again: the next trouble is a new one. */
const STEADY_AFTER_MS = 2000;
/** Sources of bytes; the others are registers and documents. */
const BYTE_KINDS: ReadonlySet<string> = new Set(['serial', 'tcp', 'simulated']);
/** While a lost device is looked for, these only say that it is still away. */
const STILL_AWAY = new Set([
  'port-not-found',
  'port-gone',
  'connection-refused',
  'connection-timed-out',
  'connection-lost',
  'host-not-found',
  'mtconnect-no-answer',
]);

/**
 * One device kept open: a state for everything that can be wrong with it, whatever its readings come from.
 * Holds the only reconnect timer there is. Readings are given only where a whole one was understood, on the
 * channel and in the unit that were set.
 */
export class Link {
  private state: LinkState = 'not set';
  private fault: Fault | null = null;
  private readonly rate = new ReadingRate();
  private readonly retryTimer: OneTimer;
  private readonly openingTimer: OneTimer;
  private readonly watchTimer: OneTimer;
  private readonly reportTimer: OneTimer;
  /** The try in progress; what an old one still says is not heard. */
  private current: SourceEvents | null = null;
  private failures = 0;
  private everOpen = false;
  private openedAtMs: number | null = null;
  private unreported = false;
  private quietTicks = 0;

  constructor(private readonly options: LinkOptions) {
    const { clock } = options;
    this.retryTimer = new OneTimer(clock);
    this.openingTimer = new OneTimer(clock);
    this.watchTimer = new OneTimer(clock);
    this.reportTimer = new OneTimer(clock);
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
    this.current = null;
    this.openedAtMs = null;
    this.stopTimers();
    this.retryTimer.clear();
    this.reportTimer.clear();
    this.enter('not set', null);
    await this.options.source.close();
  }

  /** Asks for one reading now. False where this device cannot be asked or is not open. */
  askNow(): boolean {
    return this.options.source.askNow();
  }

  get trigger(): LinkReport['trigger'] {
    return this.options.source.trigger;
  }

  report(): LinkReport {
    const { config, source, clock } = this.options;
    return {
      state: this.state,
      config,
      simulated: config.source.kind === 'simulated',
      trigger: source.trigger,
      readingsPerSecond: this.rate.perSecond,
      lastText: source.intake.lastText,
      counters: { ...source.intake.counters },
      fault: this.fault,
      line: source.intake.log.view(
        clock.now(),
        BYTE_KINDS.has(config.source.kind) ? hexOfText : null,
      ),
    };
  }

  private tryOpening(): void {
    const { source } = this.options;
    const events = this.eventsOfTry();
    this.current = events;
    this.openingTimer.set(OPENING_WITHIN_MS, () => {
      this.closed(openingHangsFault(source, OPENING_WITHIN_MS));
      void source.close();
    });
    try {
      source.open(events);
    } catch (error) {
      this.closed(explainPortError(error, { title: source.title, system: process.platform }));
    }
  }

  private eventsOfTry(): SourceEvents {
    const { onReading, onSecond, onUnread } = this.options;
    const events: SourceEvents = {
      opened: (atMs) => isMine() && this.opened(atMs),
      heard: () => isMine() && this.heard(),
      reading: (reading) => {
        if (!isMine()) return;
        this.enter('live', null);
        onReading(reading);
      },
      second: (reading) => isMine() && onSecond?.(reading),
      unread: (text) => isMine() && onUnread?.(text),
      refused: (fault) => isMine() && this.enter('not understood', fault),
      closed: (fault) => isMine() && this.closed(fault),
    };
    const isMine = () => this.current === events;
    return events;
  }

  private opened(atMs: number): void {
    const { trigger, silentAfterMs, intake } = this.options.source;
    this.openingTimer.clear();
    if (this.everOpen) intake.counters.reconnects += 1;
    this.everOpen = true;
    this.openedAtMs = atMs;
    this.watchTimer.set(silentAfterMs, () => this.judge());
    this.enter(trigger === 'its own key' ? 'waiting for its key' : 'opening', null);
  }

  private closed(cause: Fault | null): void {
    const { name, clock, source } = this.options;
    const nowMs = clock.now();
    const wasOpenMs = this.openedAtMs === null ? null : nowMs - this.openedAtMs;
    this.stopTimers();
    this.current = null;
    this.openedAtMs = null;
    if (wasOpenMs !== null && wasOpenMs >= STEADY_AFTER_MS) this.failures = 0;
    this.failures += 1;
    const fault = lostFault({ device: name, title: source.title }, cause);
    if (wasOpenMs !== null) this.enter('lost', fault);
    else if (this.state !== 'lost' || !STILL_AWAY.has(fault.code)) this.enter('refused', fault);
    this.retryTimer.set(retryDelayMs(this.failures), () => this.tryOpening());
  }

  private heard(): void {
    this.unreported = true;
    if (this.openedAtMs === null || this.watchTimer.isSet) return;
    this.watchTimer.set(this.options.source.silentAfterMs, () => this.judge());
  }

  private judge(): void {
    if (this.openedAtMs === null) return;
    const { source, clock } = this.options;
    const { intake, silentAfterMs } = source;
    const nowMs = clock.now();
    const sendsByKey = source.trigger === 'its own key';
    const quietMs = nowMs - (intake.lastBytesAtMs ?? this.openedAtMs);
    if (quietMs >= silentAfterMs) source.fellSilent();
    const judgement = judgeLine({
      nowMs,
      openedAtMs: this.openedAtMs,
      lastBytesAtMs: intake.lastBytesAtMs,
      lastReadingAtMs: intake.lastReadingAtMs,
      missedSinceMs: intake.missedSinceMs,
      silentAfterMs,
      sendsByKey,
    });
    switch (judgement.kind) {
      case 'in time':
        this.watchTimer.set(judgement.lookAgainInMs, () => this.judge());
        return;
      case 'not understood':
        this.enter('not understood', intake.missFault?.() ?? source.notUnderstoodFault());
        if (!sendsByKey) this.watchTimer.set(silentAfterMs, () => this.judge());
        return;
      case 'silent':
        this.enter('silent', source.silentFault(silentAfterMs));
        return;
      case 'waiting for its key':
        this.enter('waiting for its key', null);
    }
  }

  private enter(state: LinkState, fault: Fault | null): void {
    if (this.state === state && this.fault?.code === fault?.code) return;
    this.state = state;
    this.fault = fault;
    this.sendReport();
  }

  private reportTick(): void {
    const before = this.rate.perSecond;
    this.rate.tick(this.options.clock.now(), this.options.source.intake.readings);
    this.quietTicks += 1;
    const isDue = this.quietTicks >= TICKS_BETWEEN_AGES && this.openedAtMs !== null;
    if (this.unreported || this.rate.perSecond !== before || isDue) this.sendReport();
    this.reportTimer.set(REPORT_EVERY_MS, () => this.reportTick());
  }

  private sendReport(): void {
    this.unreported = false;
    this.quietTicks = 0;
    this.options.onReport(this.report());
  }

  private stopTimers(): void {
    this.openingTimer.clear();
    this.watchTimer.clear();
  }
}
