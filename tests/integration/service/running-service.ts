import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  type Answer,
  type BenchState,
  type Command,
  checkerOf,
  RecordEntry,
  ServiceMessage,
} from '@taptrue/protocol';
import { buildApp } from '@taptrue/server/http/build-app.ts';
import type { Database } from '@taptrue/server/records/store/database.ts';
import { openStoreToRead, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { chunkHeads, chunkLines } from '@taptrue/server/records/store/read-record.ts';
import { BenchService } from '@taptrue/server/service/bench-service.ts';
import type { ServiceOptions } from '@taptrue/server/service/service-options.ts';
import { WebSocket } from 'ws';

const messages = checkerOf(ServiceMessage);
const entries = checkerOf(RecordEntry);

export const newFolder = () => mkdtemp(join(tmpdir(), 'taptrue-service-'));

/** A service on a free port, as `serve` runs it. */
export async function listening(options: Partial<ServiceOptions> = {}) {
  const dataFolder = options.dataFolder ?? (await newFolder());
  const service = await BenchService.start({
    name: 'mill',
    dataFolder,
    demo: false,
    addresses: [],
    connect: {},
    ...options,
  });
  const app = await buildApp(service, '/no/such/folder');
  await app.listen({ host: '127.0.0.1', port: 0 });
  const address = app.server.address();
  const port = typeof address === 'object' && address ? address.port : 0;
  const stop = async () => {
    await service.close();
    await app.close();
  };
  return {
    service,
    port,
    dataFolder,
    stop,
    clear: async () => {
      await stop();
      if (!options.dataFolder) await rm(dataFolder, { recursive: true });
    },
  };
}

export async function command(port: number, asked: Command): Promise<Answer> {
  const response = await fetch(`http://127.0.0.1:${port}/api/command`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(asked),
  });
  return (await response.json()) as Answer;
}

export async function must(port: number, asked: Command): Promise<void> {
  const answer = await command(port, asked);
  if (!answer.ok) throw new Error(`${asked.kind}: ${answer.fault.code} ${answer.fault.got}`);
}

/** Waits until it is so; the state is asked every few milliseconds. */
export async function until(
  isSo: () => boolean | Promise<boolean>,
  what: string,
  withinMs = 30_000,
) {
  const deadline = Date.now() + withinMs;
  while (!(await isSo())) {
    if (Date.now() > deadline) throw new Error(`waited in vain: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}

/** A page: it keeps the state by the stream alone and says what it painted. Every message must fit the schema. */
export class Page {
  readonly socket: WebSocket;
  readonly got: ServiceMessage[] = [];
  state: Partial<BenchState> = {};
  sequence = 0;
  isClosed = false;
  #notUnderstood: string | null = null;

  constructor(
    port: number,
    options: { paints?: boolean; headers?: Record<string, string>; path?: string } = {},
  ) {
    const { paints = true, headers = {}, path = '/stream' } = options;
    this.socket = new WebSocket(`ws://127.0.0.1:${port}${path}`, { headers });
    this.socket.on('close', () => {
      this.isClosed = true;
    });
    this.socket.on('error', () => undefined);
    this.socket.on('message', (data) => {
      const checked = messages.parse(String(data));
      if (!checked.ok) {
        this.#notUnderstood ??= `${checked.why} in ${String(data).slice(0, 300)}`;
        return;
      }
      this.got.push(checked.value);
      if (checked.value.type !== 'still here') {
        this.state = { ...this.state, ...checked.value.state };
      }
      this.sequence = checked.value.sequence;
      if (paints && this.socket.readyState === WebSocket.OPEN) this.paint();
    });
  }

  paint(): void {
    this.socket.send(JSON.stringify({ type: 'painted', sequence: this.sequence, visible: true }));
  }

  async greeted(): Promise<void> {
    await until(() => this.got.length > 0 || this.isClosed, 'the hello');
  }

  /** Throws where a message did not fit the schema. */
  understood(): void {
    if (this.#notUnderstood) throw new Error(this.#notUnderstood);
  }

  close(): void {
    this.socket.terminate();
  }
}

/** All records in a bench's folder, oldest first; every line must fit the schema. */
export async function recordsIn(folder: string): Promise<RecordEntry[][]> {
  const db = openStoreToRead(join(folder, STORE_FILE));
  try {
    return db.all('SELECT key FROM job ORDER BY id').map(({ key }) => recordOf(db, String(key)));
  } finally {
    db.close();
  }
}

function recordOf(db: Database, job: string): RecordEntry[] {
  return chunkHeads(db, job).flatMap(({ seq, entries: count }) => {
    const lines = chunkLines(db, { job, seq }).trimEnd().split('\n');
    if (lines.length !== count) throw new Error(`${lines.length} lines where ${count} were kept`);
    return lines.map((line) => {
      const checked = entries.parse(line);
      if (!checked.ok) throw new Error(`${checked.why} in ${line.slice(0, 300)}`);
      return checked.value;
    });
  });
}
