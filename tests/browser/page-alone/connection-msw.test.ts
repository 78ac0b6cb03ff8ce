import { type Change, type Hello, PROTOCOL_VERSION } from '@taptrue/protocol';
import { type Connection, LiveSocket } from '@taptrue/web/connection/live-socket.ts';
import { postCommand, postPair } from '@taptrue/web/connection/post-command.ts';
import { LatestState } from '@taptrue/web/state/latest-state.ts';
import { delay, HttpResponse, http, ws } from 'msw';
import { setupServer } from 'msw/node';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { WebSocket as NodeWebSocket } from 'ws';
import { exampleReading } from '../example-parts.ts';
import { nothingSet, tapLive } from '../example-states.ts';

const ORIGIN = 'http://bench.test';
const STREAM = 'ws://bench.test/stream';
const stream = ws.link(STREAM);

// Plain Node 20 has no WebSocket of its own; msw takes over whatever stands here when it starts to listen.
globalThis.WebSocket ??= NodeWebSocket as unknown as typeof WebSocket;
const server = setupServer();

beforeAll(() => server.listen({ onUnhandledRequest: 'error' }));
afterEach(() => server.resetHandlers());
afterAll(() => server.close());

function hello(change: Partial<Hello> = {}): Hello {
  return {
    type: 'hello',
    version: PROTOCOL_VERSION,
    role: 'bench screen',
    sequence: 4,
    state: nothingSet(),
    access: null,
    ...change,
  };
}

function listen() {
  const latest = new LatestState();
  const connections: Connection[] = [];
  const socket = new LiveSocket(STREAM, {
    onHello: (message) => latest.acceptHello(message, performance.now()),
    onChange: (message) => latest.acceptChange(message, performance.now()),
    onConnection: (connection) => {
      connections.push(connection);
      latest.setConnection(connection);
    },
  });
  socket.open();
  return { latest, connections, socket };
}

describe('the page and its stream', () => {
  it('holds the whole state once the service has said hello', async () => {
    server.use(
      stream.addEventListener('connection', ({ client }) => client.send(JSON.stringify(hello()))),
    );
    const { latest, socket } = listen();
    await vi.waitFor(() => expect(latest.screen()?.mayCommand).toBe(true));
    expect(latest.state).toEqual(nothingSet());
    expect(latest.sequence).toBe(4);
    socket.close();
  });

  it('overwrites a section with the latest and never keeps the ones between', async () => {
    server.use(
      stream.addEventListener('connection', ({ client }) => {
        client.send(JSON.stringify(hello()));
        for (let sequence = 5; sequence <= 500; sequence += 1) {
          const change: Change = {
            type: 'change',
            sequence,
            skipped: 0,
            state: {
              live: { ...tapLive().live, indicator: exampleReading(sequence / 1e5, sequence) },
            },
          };
          client.send(JSON.stringify(change));
        }
      }),
    );
    const { latest, socket } = listen();
    await vi.waitFor(() => expect(latest.sequence).toBe(500));
    expect(latest.state?.live.indicator?.value).toBe(0.005);
    expect(latest.state?.setup).toEqual(nothingSet().setup);
    expect(latest.revision, 'needle changes alone redraw nothing but the needle').toBe(2);
    socket.close();
  });

  it('counts what is not of the protocol and shows nothing of it', async () => {
    server.use(
      stream.addEventListener('connection', ({ client }) => {
        client.send(JSON.stringify(hello()));
        client.send(
          '{"type":"change","sequence":5,"skipped":0,"state":{"live":{"indicator":"0.001"}}}',
        );
        client.send('garbage');
      }),
    );
    const { latest, socket } = listen();
    await vi.waitFor(() => expect(socket.messagesNotUnderstood).toBe(2));
    expect(latest.state).toEqual(nothingSet());
    socket.close();
  });

  it('refuses a service of another first version and says which', async () => {
    server.use(
      stream.addEventListener('connection', ({ client }) =>
        client.send(JSON.stringify(hello({ version: '9.3' }))),
      ),
    );
    const { latest, connections, socket } = listen();
    await vi.waitFor(() =>
      expect(connections).toContainEqual({ kind: 'other version', theirs: '9.3' }),
    );
    expect(latest.screen()).toBeNull();
    socket.close();
  });

  it('connects again by itself when the service hangs up', async () => {
    let connectionsMade = 0;
    server.use(
      stream.addEventListener('connection', ({ client }) => {
        connectionsMade += 1;
        client.send(JSON.stringify(hello({ sequence: connectionsMade })));
        if (connectionsMade === 1) setTimeout(() => client.close(), 50);
      }),
    );
    const { latest, connections, socket } = listen();
    await vi.waitFor(() => expect(latest.sequence).toBe(2), { timeout: 5_000 });
    expect(connections.map(({ kind }) => kind)).toEqual(['connected', 'lost', 'connected']);
    socket.close();
  });

  it('takes a service that says nothing for lost, though the socket stays open', async () => {
    server.use(
      stream.addEventListener('connection', ({ client }) => client.send(JSON.stringify(hello()))),
    );
    const { connections, socket } = listen();
    await vi.waitFor(
      () =>
        expect(connections).toContainEqual({
          kind: 'lost',
          why: 'Nothing was heard from the service for 3 s.',
        }),
      { timeout: 8_000 },
    );
    socket.close();
  });

  it('acknowledges only after hello', async () => {
    const heard: string[] = [];
    server.use(
      stream.addEventListener('connection', ({ client }) => {
        client.addEventListener('message', (event) => heard.push(String(event.data)));
        client.send(JSON.stringify(hello()));
      }),
    );
    const { latest, socket } = listen();
    socket.sendPainted({ type: 'painted', sequence: 1, visible: true });
    await vi.waitFor(() => expect(latest.state).not.toBeNull());
    socket.sendPainted({ type: 'painted', sequence: 4, visible: true });
    await vi.waitFor(() => expect(heard).toHaveLength(1));
    expect(JSON.parse(heard[0]!)).toEqual({ type: 'painted', sequence: 4, visible: true });
    socket.close();
  });
});

describe('commands and their answers', () => {
  it('sends the command and hands back the answer', async () => {
    let body: unknown = null;
    server.use(
      http.post(`${ORIGIN}/api/command`, async ({ request }) => {
        body = await request.json();
        return HttpResponse.json({ ok: true, note: 'Station 3 taken.' });
      }),
    );
    const answer = await postCommand({ kind: 'take station', keyed: ',0015' }, ORIGIN);
    expect(answer).toEqual({ ok: true, note: 'Station 3 taken.' });
    expect(body).toEqual({ kind: 'take station', keyed: ',0015' });
  });

  it.each([200, 403])('hands back a refusal that came with status %i', async (status) => {
    const fault = { code: 'only-watching', what: 'Only watching.', got: '', remedy: 'Pair it.' };
    server.use(
      http.post(`${ORIGIN}/api/command`, () => HttpResponse.json({ ok: false, fault }, { status })),
    );
    expect(await postCommand({ kind: 'begin sweep' }, ORIGIN)).toEqual({ ok: false, fault });
  });

  it('sends code and name to pair', async () => {
    let body: unknown = null;
    server.use(
      http.post(`${ORIGIN}/api/pair`, async ({ request }) => {
        body = await request.json();
        return HttpResponse.json({ ok: true, note: '' });
      }),
    );
    await postPair('482915', 'tablet', ORIGIN);
    expect(body).toEqual({ code: '482915', name: 'tablet' });
  });

  it('says that it is not known whether it was done when the service is not there', async () => {
    server.use(http.post(`${ORIGIN}/api/command`, () => HttpResponse.error()));
    const answer = await postCommand({ kind: 'end sweep' }, ORIGIN);
    expect(answer).toMatchObject({ ok: false, fault: { code: 'service-not-reached' } });
  });

  it('says that an answer was not understood, and quotes it', async () => {
    server.use(
      http.post(`${ORIGIN}/api/command`, async () => {
        await delay(5);
        return new HttpResponse('<h1>502</h1>', { status: 502 });
      }),
    );
    const answer = await postCommand({ kind: 'end sweep' }, ORIGIN);
    expect(answer).toMatchObject({
      ok: false,
      fault: { code: 'answer-not-understood', got: '<h1>502</h1>' },
    });
  });
});
