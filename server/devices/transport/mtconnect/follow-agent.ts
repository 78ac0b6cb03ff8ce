import type { LinkCounters } from '@taptrue/protocol';
import { type Clock, OneTimer } from '../clock.ts';
import { type AgentClient, AgentTrouble, NoAnswer } from './agent-client.ts';
import type { MtconnectDocument, Position, StreamHeader } from './documents.ts';
import { findItem } from './find-item.ts';
import { Thread, type Threading } from './follow-thread.ts';
import { type AgentNames, itemFault } from './mtconnect-faults.ts';
import type { FollowedItem, TakePositions } from './take-positions.ts';

export interface FollowAgentOptions {
  client: AgentClient;
  take: TakePositions;
  names: AgentNames;
  /** The position, and the second one where one is set, as the user calls them. */
  wanted: readonly string[];
  way: 'stream' | 'poll';
  everyMs: number;
  clock: Clock;
  signal: AbortSignal;
  counters: LinkCounters;
  /** The agent has answered and has what is wanted. */
  onOpen(): void;
}

/** An agent that has nothing new says so this often, so that a position that stands is known to hold. */
const HEARTBEAT_MS = 200;
/** After an answer that did not come. */
const PAUSE_MS = 500;

type Streams = { header: StreamHeader; positions: readonly Position[] };

/**
 * The conversation with an agent: what it has (`probe`), how things stand (`current`), what changes (`sample`,
 * or `current` again and again). Loses its thread without losing the connection: a gap or a restart of the
 * agent is counted and taken up from how things stand now. Ends by throwing what went wrong.
 */
export class FollowAgent {
  private anew = new AbortController();

  constructor(private readonly options: FollowAgentOptions) {}

  async run(): Promise<void> {
    const { onOpen, signal } = this.options;
    let opened = false;
    while (!signal.aborted) {
      const items = await this.items();
      if (!opened) onOpen();
      opened = true;
      // Only a restart of the agent leads here again: it may know other machines now.
      await this.follow(items);
      if (!signal.aborted) await this.resync();
    }
  }

  /** Nothing has come for long: what is under way is given up, and how things stand asked for. */
  beginAnew(): void {
    this.anew.abort(new NoAnswer());
  }

  private async items(): Promise<FollowedItem[]> {
    const { client, wanted, names, take } = this.options;
    const document = await client.ask('/probe');
    if (document.kind === 'error') throw client.refusal(document.code, document.text);
    const known = document.kind === 'devices' ? document.items : [];
    const items = wanted.map((name) => {
      const found = findItem(known, name);
      if (found.kind !== 'found') throw new AgentTrouble(itemFault(names, name, found));
      return { id: found.id, wanted: name };
    });
    take.follow(items);
    return items;
  }

  /** Until the agent was started anew. */
  private async follow(items: readonly FollowedItem[]): Promise<void> {
    const { signal, counters, everyMs, way } = this.options;
    const thread = new Thread(items.map(({ id }) => id));
    const path = pathOf(items);
    while (!signal.aborted) {
      this.anew = new AbortController();
      try {
        const standing = await this.streams(`/current?path=${path}`);
        if (this.took(thread.begin(standing.header, standing.positions), 'stands')) return;
        if (way === 'poll') await this.pause(everyMs);
        else if (await this.stream(thread, path)) return;
      } catch (error) {
        if (!(error instanceof NoAnswer)) throw error;
        counters.unanswered += 1;
        await this.pause(PAUSE_MS);
      }
    }
  }

  /** Follows the stream until its thread is lost; true where the agent was started anew. */
  private async stream(thread: Thread, path: string): Promise<boolean> {
    const { client, everyMs } = this.options;
    const heartbeat = Math.max(HEARTBEAT_MS, everyMs);
    const request = `/sample?path=${path}&from=${thread.nextSequence}&interval=${everyMs}&heartbeat=${heartbeat}`;
    for await (const document of this.giveUpOnSilence(client.stream(request, this.anew.signal))) {
      if (document.kind === 'error' && document.code === 'OUT_OF_RANGE') {
        await this.resync();
        return false;
      }
      const { header, positions } = this.asStreams(document);
      const threading = thread.goOn(header, positions);
      if (this.took(threading, 'changed')) return true;
      if (threading.kind === 'gap') {
        await this.resync();
        return false;
      }
    }
    // An agent that cannot stream sends one document and is done: it is asked again, as by polling.
    await this.pause(everyMs);
    return false;
  }

  /** Counted, and never in a tight circle: an agent may lose its thread with every document. */
  private async resync(): Promise<void> {
    this.options.counters.resyncs += 1;
    await this.pause(this.options.everyMs);
  }

  private async *giveUpOnSilence(
    documents: AsyncIterable<MtconnectDocument>,
  ): AsyncIterable<MtconnectDocument> {
    try {
      yield* documents;
    } catch (error) {
      throw this.anew.signal.aborted ? new NoAnswer() : error;
    }
  }

  /** True where the agent was started anew. */
  private took(threading: Threading, as: 'stands' | 'changed'): boolean {
    if (threading.kind === 'agent restarted') return true;
    const { take, clock } = this.options;
    if (threading.kind === 'goes on') take.take(threading.positions, clock.now(), as);
    return false;
  }

  private async streams(request: string): Promise<Streams> {
    return this.asStreams(await this.options.client.ask(request));
  }

  private asStreams(document: MtconnectDocument): Streams {
    const { client } = this.options;
    if (document.kind === 'streams') return document;
    if (document.kind === 'error') throw client.refusal(document.code, document.text);
    throw client.refusal('a description of the machine', 'positions were asked for');
  }

  private pause(ms: number): Promise<void> {
    const { clock, signal } = this.options;
    return new Promise((resolve) => {
      const timer = new OneTimer(clock);
      const end = () => {
        timer.clear();
        signal.removeEventListener('abort', end);
        resolve();
      };
      if (signal.aborted) return resolve();
      signal.addEventListener('abort', end);
      timer.set(ms, end);
    });
  }
}

/** Only what is followed is asked for: a large machine would tell a thousand things ten times a second. */
function pathOf(items: readonly FollowedItem[]): string {
  const ids = items.map(({ id }) => `@id="${id.replaceAll('"', '')}"`);
  return encodeURIComponent(`//DataItem[${ids.join(' or ')}]`);
}
