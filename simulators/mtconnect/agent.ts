import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { AgentBuffer } from './agent-buffer.ts';
import {
  type AgentAxis,
  type AgentDescription,
  devicesDocument,
  errorDocument,
  streamsDocument,
} from './agent-documents.ts';

export interface AgentOptions {
  axes?: readonly AgentAxis[];
  device?: string;
  nativeUnits?: 'MILLIMETER' | 'INCH';
  /** Observations kept; the standard's own example has 8, agents 131072. */
  bufferSize?: number;
  /** Wall clock, milliseconds since 1970. */
  now?: () => number;
}

export const USUAL_AXES: readonly AgentAxis[] = [
  { name: 'X', actualId: 'x-actual', commandedId: 'x-commanded' },
  { name: 'Y', actualId: 'y-actual', commandedId: 'y-commanded' },
];

const BOUNDARY = '3a9c1f7e';

/**
 * A small MTConnect agent of a milling machine with linear axes: `probe`, `current`, and `sample` streamed in
 * parts, over real HTTP. It can be restarted, made to forget, and made to say that its machine is away.
 */
export class MtconnectAgent {
  private readonly now: () => number;
  private readonly axes: readonly AgentAxis[];
  private agent: AgentDescription;
  private buffer: AgentBuffer;
  private server: Server | null = null;
  private port = 0;
  private readonly timers = new Set<NodeJS.Timeout>();
  requests: string[] = [];

  constructor(private readonly options: AgentOptions = {}) {
    this.now = options.now ?? Date.now;
    this.axes = options.axes ?? USUAL_AXES;
    this.agent = this.describe(Math.floor(this.now() / 1000));
    this.buffer = this.newBuffer();
  }

  /** Puts a machine's position in: millimetres as text, or UNAVAILABLE. */
  set(itemId: string, text: string, timestamp = this.stamp()): void {
    this.buffer.add(itemId, text, timestamp);
  }

  /** On loopback, 0: on any free port; resolves to the port. Left out: the same again after `stop`. */
  async start(port = this.port): Promise<number> {
    const server = createServer((request, response) => this.answer(request, response));
    this.server = server;
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(port, '127.0.0.1', resolve);
    });
    const address = server.address();
    if (address !== null && typeof address === 'object') this.port = address.port;
    return this.port;
  }

  /** As a power cut does: connections break off. */
  async stop(): Promise<void> {
    const { server } = this;
    this.server = null;
    for (const timer of this.timers) clearInterval(timer);
    this.timers.clear();
    if (server === null) return;
    const closed = new Promise((resolve) => server.close(resolve));
    server.closeAllConnections();
    await closed;
  }

  /** Started anew: another instance, counting from 1, knowing nothing. Connections stay, as behind a proxy. */
  forgetAll(): void {
    this.agent = this.describe(this.agent.instanceId + 1);
    this.buffer = this.newBuffer();
  }

  private describe(instanceId: number): AgentDescription {
    const { device = 'mill-1', nativeUnits = 'MILLIMETER' } = this.options;
    const uuid = `simulated-${device}`;
    const describedAt = this.stamp();
    return { instanceId, describedAt, device, uuid, axes: this.axes, nativeUnits };
  }

  private newBuffer(): AgentBuffer {
    const ids = this.axes.flatMap(({ actualId, commandedId }) => [actualId, commandedId]);
    return new AgentBuffer(this.options.bufferSize ?? 1024, ids, this.stamp());
  }

  private stamp(): string {
    return new Date(this.now()).toISOString();
  }

  private answer(request: IncomingMessage, response: ServerResponse): void {
    const url = new URL(request.url ?? '/', 'http://agent');
    this.requests.push(url.pathname + url.search);
    if (this.requests.length > 1000) this.requests.shift();
    const steps = url.pathname.split('/').filter(Boolean);
    const what = steps.at(-1) ?? 'probe';
    if (steps.length === 2 && steps[0] !== this.agent.device) {
      this.refuse(response, 404, 'NO_DEVICE', `Could not find the device '${steps[0]}'`);
      return;
    }
    const only = itemsIn(url.searchParams.get('path'));
    if (what === 'probe')
      this.send(response, devicesDocument(this.agent, this.buffer, this.stamp()));
    else if (what === 'current') this.send(response, this.streams(this.buffer.current(only)));
    else if (what === 'sample') this.stream(response, url.searchParams, only);
    else this.refuse(response, 400, 'INVALID_REQUEST', `${what} is not known`);
  }

  private streams(observations: Parameters<typeof streamsDocument>[2]): string {
    const { nextSequence } = this.buffer;
    return streamsDocument(this.agent, this.buffer, observations, nextSequence, this.stamp());
  }

  /** Parts as they come; nothing new: an empty one at every heartbeat. What has fallen out ends it. */
  private stream(
    response: ServerResponse,
    asked: URLSearchParams,
    only: readonly string[] | null,
  ): void {
    let from = Number(asked.get('from') ?? this.buffer.firstSequence);
    if (this.buffer.since(from, only) === null) {
      this.refuse(response, 400, 'OUT_OF_RANGE', `'from' must be in what is kept, got ${from}`);
      return;
    }
    const intervalMs = Math.max(1, Number(asked.get('interval') ?? 1000));
    const heartbeatMs = Number(asked.get('heartbeat') ?? 10_000);
    let quietSince = this.now();
    response.writeHead(200, {
      'content-type': `multipart/x-mixed-replace;boundary=${BOUNDARY}`,
      'cache-control': 'no-cache',
    });
    const timer = setInterval(() => {
      // Of another instance this number means something else; a real agent would be gone here.
      const fresh = this.buffer.since(Math.min(from, this.buffer.nextSequence), only);
      if (fresh === null) {
        const text = "'from' has fallen out";
        part(response, errorDocument(this.agent, this.buffer, 'OUT_OF_RANGE', text, this.stamp()));
        end();
        return;
      }
      if (fresh.length === 0 && this.now() - quietSince < heartbeatMs) return;
      quietSince = this.now();
      from = this.buffer.nextSequence;
      part(response, this.streams(fresh));
    }, intervalMs);
    const end = () => {
      clearInterval(timer);
      this.timers.delete(timer);
      response.end();
    };
    this.timers.add(timer);
    response.on('close', end);
  }

  private send(response: ServerResponse, document: string, status = 200): void {
    response.writeHead(status, { 'content-type': 'text/xml', 'cache-control': 'no-cache' });
    response.end(document);
  }

  private refuse(response: ServerResponse, status: number, code: string, text: string): void {
    const document = errorDocument(this.agent, this.buffer, code, text, this.stamp());
    this.send(response, document, status);
  }
}

function part(response: ServerResponse, document: string): void {
  const length = Buffer.byteLength(document);
  response.write(`--${BOUNDARY}\r\nContent-type: text/xml\r\nContent-length: ${length}\r\n\r\n`);
  response.write(`${document}\r\n`);
}

/** Of the paths that may be asked for, the one form that is understood here: data items by their ids. */
function itemsIn(path: string | null): readonly string[] | null {
  if (path === null) return null;
  return [...path.matchAll(/@id="([^"]+)"/g)].map((match) => match[1]!);
}
