import { readFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import {
  type AccessSection,
  type Answer,
  type BenchState,
  type Change,
  type Command,
  type Hello,
  PROTOCOL_VERSION,
  type ReplayMove,
  type Role,
} from '@taptrue/protocol';
import type { Browser, Page, WebSocketRoute } from 'playwright-core';
import { exampleProofAnswer } from '../example-proof.ts';
import { exampleOverview } from '../example-replays.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
};
/** The page must run under the strictest policy the service could send: nothing inline, nothing evaluated. */
const POLICY = "default-src 'self'; connect-src 'self' ws:; object-src 'none'; base-uri 'none'";

/** Serves the built files and nothing else; the service's own addresses are answered by each test. */
export async function serveFiles(folder: string): Promise<{ origin: string; server: Server }> {
  const server = createServer(async (request, response) => {
    const path = normalize(new URL(request.url ?? '/', 'http://page').pathname);
    const file = join(folder, path === '/' || path === '\\' ? 'index.html' : path);
    try {
      const body = await readFile(file);
      response.writeHead(200, {
        'content-type': TYPES[extname(file)] ?? 'application/octet-stream',
        'content-security-policy': POLICY,
      });
      response.end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return { origin: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, server };
}

export interface Alone {
  page: Page;
  /** Commands the page posted, in order. */
  commands: Command[];
  /** Moves in a replay, and other setups tried in it. */
  moves: ReplayMove[];
  tried: Command[];
  /** What the page sent up the stream. */
  sent: string[];
  consoleErrors: string[];
  /** Sends changed sections to the page. */
  change(state: Partial<BenchState>): void;
  /** Ends the connection as a stopped service would. */
  hangUp(): Promise<void>;
  answerWith(answer: Answer): void;
  close(): Promise<void>;
}

export interface AloneOptions {
  state: BenchState;
  role?: Role;
  access?: AccessSection | null;
  place?: string;
  /** What follows the question mark of the address, with it. */
  search?: string;
  size?: { width: number; height: number };
  version?: string;
  /** Later connections are refused, as by a service that is gone. */
  onlyOnce?: boolean;
}

/** One page with no service behind it: the stream and the routes are played by the test. */
export async function openAlone(
  browser: Browser,
  origin: string,
  options: AloneOptions,
): Promise<Alone> {
  const context = await browser.newContext({
    viewport: options.size ?? { width: 1280, height: 800 },
  });
  const page = await context.newPage();
  const commands: Command[] = [];
  const moves: ReplayMove[] = [];
  const tried: Command[] = [];
  const sent: string[] = [];
  const consoleErrors: string[] = [];
  let answer: Answer = { ok: true, note: '' };
  let socket: WebSocketRoute | null = null;
  let sequence = 1;
  let connections = 0;
  let keepAlive: NodeJS.Timeout | null = null;
  page.on('console', (message) => {
    if (message.type() === 'error') consoleErrors.push(message.text());
  });
  page.on('pageerror', (error) => consoleErrors.push(String(error)));
  await page.routeWebSocket('**/stream', async (route) => {
    connections += 1;
    if (options.onlyOnce === true && connections > 1) {
      await route.close();
      return;
    }
    socket = route;
    route.onMessage((message) => sent.push(String(message)));
    const hello: Hello = {
      type: 'hello',
      version: options.version ?? PROTOCOL_VERSION,
      role: options.role ?? 'bench screen',
      sequence,
      state: options.state,
      access: options.access ?? null,
    };
    route.send(JSON.stringify(hello));
    keepAlive = setInterval(
      () => route.send(JSON.stringify({ type: 'still here', sequence })),
      1_000,
    );
  });
  await page.route('**/api/command', async (route) => {
    commands.push(route.request().postDataJSON() as Command);
    await route.fulfill({ json: answer });
  });
  await page.route('**/api/replay', (route) => route.fulfill({ json: { ok: true, id: 'r1' } }));
  await page.route('**/api/replay/r1', async (route) => {
    moves.push(route.request().postDataJSON() as ReplayMove);
    await route.fulfill({ json: answer });
  });
  await page.route('**/api/replay/r1/command', async (route) => {
    tried.push(route.request().postDataJSON() as Command);
    await route.fulfill({ json: answer });
  });
  await page.route('**/api/proof/**', (route) => {
    const path = route.request().url().split('/api/proof/')[1] ?? '';
    return route.fulfill({ json: exampleProofAnswer(path) });
  });
  // After the one above: of two that fit, the one that was added last answers.
  await page.route('**/api/proof/jobs/*/overview*', (route) =>
    route.fulfill({ json: exampleOverview(new URL(route.request().url()).searchParams) }),
  );
  await page.route('**/api/pair', (route) => route.fulfill({ json: answer }));
  await page.route('**/api/ports', (route) => route.fulfill({ json: EXAMPLE_PORTS }));
  await page.route('**/api/shapes', (route) => route.fulfill({ json: EXAMPLE_SHAPES }));
  await page.goto(`${origin}/${options.search ?? ''}#${options.place ?? 'sweep'}`);
  await page
    .locator(options.version === undefined ? 'bench-bar, far-place' : 'main')
    .first()
    .waitFor();
  return {
    page,
    commands,
    moves,
    tried,
    sent,
    consoleErrors,
    change(state) {
      sequence += 1;
      const change: Change = { type: 'change', sequence, skipped: 0, state };
      socket?.send(JSON.stringify(change));
    },
    async hangUp() {
      if (keepAlive !== null) clearInterval(keepAlive);
      await socket?.close();
    },
    answerWith(next) {
      answer = next;
    },
    async close() {
      if (keepAlive !== null) clearInterval(keepAlive);
      await context.close();
    },
  };
}

const EXAMPLE_PORTS = [
  {
    path: '/dev/ttyUSB0',
    identity: 'usb-serial-adapter-NOTREAL1-if00',
    title: 'USB serial adapter',
  },
  { path: '/dev/ttyACM0', identity: 'usb-measuring-adapter-0012-if00', title: 'USB device' },
];

const EXAMPLE_SHAPES = [
  { name: 'signed-decimal', title: 'Signed decimal, optional unit', trigger: 'streams', port: {} },
  { name: 'channel-tagged', title: 'Channel, value, unit', trigger: 'its own key', port: {} },
];
