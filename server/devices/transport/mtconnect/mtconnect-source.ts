import type { Fault, LinkConfig, LinkName, LinkSource } from '@taptrue/protocol';
import type { Clock } from '../clock.ts';
import { siftedFault } from '../link-faults.ts';
import type { ReadingSource } from '../source.ts';
import type { SourceEvents } from '../source-events.ts';
import { ReadingIntake } from '../take-readings.ts';
import { AgentClient, AgentTrouble } from './agent-client.ts';
import { FollowAgent } from './follow-agent.ts';
import { agentSilentFault, notMtconnectFault } from './mtconnect-faults.ts';
import { TakePositions } from './take-positions.ts';

export type AgentSource = Extract<LinkSource, { kind: 'mtconnect' }>;

export interface MtconnectSourceOptions {
  name: LinkName;
  config: LinkConfig;
  source: AgentSource;
  clock: Clock;
}

/** An agent that says nothing for this long has stopped: it was asked to send five times as often. */
const SILENT_AFTER_MS = 1000;

/** Positions of a machine from its MTConnect agent, over HTTP. */
export class MtconnectSource implements ReadingSource {
  readonly trigger = 'streams';
  readonly silentAfterMs: number;
  readonly intake: ReadingIntake;
  readonly title: string;
  private events: SourceEvents | null = null;
  private current: { abort: AbortController; follow: FollowAgent } | null = null;

  constructor(private readonly options: MtconnectSourceOptions) {
    const { name, config, source } = options;
    this.title = baseOf(source);
    this.silentAfterMs = Math.max(SILENT_AFTER_MS, 3 * source.everyMs);
    this.intake = new ReadingIntake({
      config: { ...config, channel: source.item },
      events: () => this.events,
      siftedFault: (sifted, text) => siftedFault({ device: name, title: this.title }, sifted, text),
    });
  }

  open(events: SourceEvents): void {
    const { name, source, config, clock } = this.options;
    const abort = new AbortController();
    const isMine = () => this.current?.abort === abort;
    const client = new AgentClient({
      device: name,
      base: this.title,
      clock,
      signal: abort.signal,
      onBytes: (bytes) => isMine() && this.intake.heard(bytes, clock.now()),
      onText: (text) => isMine() && this.intake.show(text),
    });
    const names = { device: name, title: this.title };
    const take = new TakePositions({ intake: this.intake, names, events: () => this.events });
    const follow = new FollowAgent({
      client,
      take,
      names,
      wanted: [source.item, ...(config.secondChannel ? [config.secondChannel] : [])],
      way: source.way,
      everyMs: source.everyMs,
      clock,
      signal: abort.signal,
      counters: this.intake.counters,
      onOpen: () => {
        if (!isMine()) return;
        this.intake.begin();
        this.events?.opened(clock.now());
      },
    });
    this.events = events;
    this.current = { abort, follow };
    follow.run().then(
      () => isMine() && this.closed(null),
      (error: unknown) => isMine() && this.closed(this.faultOf(error)),
    );
  }

  /** Whoever streams is not asked; the next value comes by itself. */
  askNow(): boolean {
    return false;
  }

  fellSilent(): void {
    this.current?.follow.beginAnew();
  }

  silentFault(silentAfterMs: number): Fault {
    return agentSilentFault({ device: this.options.name, title: this.title }, silentAfterMs);
  }

  notUnderstoodFault(): Fault {
    const names = { device: this.options.name, title: this.title };
    return notMtconnectFault(names, 'no position in it', this.intake.lastText);
  }

  async close(): Promise<void> {
    const { current } = this;
    this.current = null;
    this.events = null;
    current?.abort.abort();
  }

  private closed(fault: Fault | null): void {
    const { events, current } = this;
    this.current = null;
    this.events = null;
    current?.abort.abort();
    events?.closed(fault);
  }

  private faultOf(error: unknown): Fault {
    if (error instanceof AgentTrouble) return error.fault;
    return agentSilentFault({ device: this.options.name, title: this.title }, this.silentAfterMs);
  }
}

function baseOf({ host, port, path, secure }: AgentSource): string {
  const named = host.includes(':') ? `[${host}]` : host;
  const machine = path.replace(/^\/+|\/+$/g, '');
  return `${secure ? 'https' : 'http'}://${named}:${port}${machine === '' ? '' : `/${machine}`}`;
}
