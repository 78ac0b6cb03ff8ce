import { createServer as createTcpServer, type Socket } from 'node:net';
import { MtconnectAgent } from '@taptrue/simulators/mtconnect/agent.ts';
import { afterEach, describe, expect, it } from 'vitest';
import { agentWith, closeAll, host, linkTo, stopWith } from './agent-links.ts';

afterEach(closeAll);

describe.each(['stream', 'poll'] as const)('an MTConnect agent, by %s', (way) => {
  it('gives the actual position of the axis in millimetres, as it changes', async () => {
    const { agent, port } = await agentWith({ nativeUnits: 'INCH' });
    agent.set('x-commanded', '999');
    const one = linkTo(port, { way });
    await one.shows(1.0001);
    await one.becomes('live');
    expect(one.readings[0]).toMatchObject({
      unit: 'mm',
      valueMm: 1.0001,
      decimals: 4,
      channel: 'X',
    });
    expect(one.readings[0]?.text).toMatch(/^x-actual #\d+: 1\.0001$/);
    agent.set('x-actual', '25.4');
    await one.shows(25.4);
    expect(one.readings.every(({ value }) => value !== 999)).toBe(true);
    const times = one.readings.map(({ atMs }) => atMs);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  it('that has nothing new is live all the same, and the position that stands is told again', async () => {
    const { port } = await agentWith();
    const one = linkTo(port, { way });
    await expect.poll(() => one.readings.length, { timeout: 8000 }).toBeGreaterThan(8);
    expect(one.link.report().state).toBe('live');
    expect(new Set(one.readings.map(({ value }) => value))).toEqual(new Set([1.0001]));
  });

  it('gives a second axis beside the first', async () => {
    const { agent, port } = await agentWith();
    const one = linkTo(port, { way }, { secondChannel: 'Y' });
    await one.becomes('live');
    agent.set('y-actual', '-2.6');
    await expect.poll(() => one.second.at(-1)?.value, { timeout: 4000 }).toBe(-2.6);
    expect(one.second[0]).toMatchObject({ channel: 'Y', value: -2.5, unit: 'mm' });
    expect(new Set(one.readings.map(({ channel }) => channel))).toEqual(new Set(['X']));
  });

  it('whose machine goes away says so: the position is absent, never zero', async () => {
    const { agent, port } = await agentWith();
    const one = linkTo(port, { way });
    await one.becomes('live');
    agent.set('x-actual', 'UNAVAILABLE');
    await one.becomes('not understood');
    expect(one.link.report().fault?.code).toBe('mtconnect-unavailable');
    expect(one.readings.at(-1)).toMatchObject({ value: null, valueMm: null, status: 'error' });
    expect(one.readings.filter(({ value }) => value === null)).toHaveLength(1);
    agent.set('x-actual', '7');
    await one.becomes('live');
    expect(one.readings.at(-1)?.value).toBe(7);
  });

  it('that was started anew is taken up by itself, and counted', async () => {
    const { agent, port } = await agentWith();
    const one = linkTo(port, { way });
    await one.becomes('live');
    agent.forgetAll();
    agent.set('x-actual', '3.25');
    await one.shows(3.25);
    await one.becomes('live');
    expect(one.link.report().counters).toMatchObject({ reconnects: 0 });
    expect(one.link.report().counters.resyncs).toBeGreaterThan(0);
  });

  it('that falls over is lost, and live again when it is back', async () => {
    const { agent, port } = await agentWith();
    const one = linkTo(port, { way });
    await one.becomes('live');
    await agent.stop();
    await one.becomes('lost', 2000);
    await agent.start();
    await one.becomes('live', 3000);
    expect(one.link.report().counters.reconnects).toBe(1);
  });

  it('asks for what it follows and for nothing else', async () => {
    const { agent, port } = await agentWith();
    const one = linkTo(port, { way, path: '/mill-1' });
    await one.becomes('live');
    const asked = agent.requests.map((url) => decodeURIComponent(url));
    expect(asked[0]).toBe('/mill-1/probe');
    expect(asked[1]).toBe('/mill-1/current?path=//DataItem[@id="x-actual"]');
  });
});

describe('a stream that outruns its reader', () => {
  it('is taken up from how things stand where what was missed has fallen out', async () => {
    const { agent, port } = await agentWith({ bufferSize: 8 });
    const one = linkTo(port, { everyMs: 50 });
    await one.becomes('live');
    for (let step = 0; step < 100; step += 1) agent.set('y-actual', String(step));
    agent.set('x-actual', '4.5');
    for (let step = 0; step < 100; step += 1) agent.set('y-actual', String(step));
    await one.shows(4.5);
    expect(one.link.report().counters.resyncs).toBe(1);
    expect(one.link.report().state).toBe('live');
  });
});

describe('an agent that is asked for what it has not', () => {
  it.each([
    [
      'an axis that is not there',
      { item: 'Z' },
      'mtconnect-item-not-found',
      /Xact of X \(actual\)/,
    ],
    ['a machine that is not there', { path: '/lathe-9' }, 'mtconnect-refused', /NO_DEVICE/],
  ])('%s: refused with what there is', async (_what, change, code, got) => {
    const { port } = await agentWith();
    const one = linkTo(port, change);
    await one.becomes('refused');
    const { fault } = one.link.report();
    expect(fault?.code).toBe(code);
    expect(fault?.got).toMatch(got);
  });
});

describe('a host that is no good agent', () => {
  it('is not there', async () => {
    const one = linkTo(2);
    await one.becomes('refused');
    expect(one.link.report().fault).toMatchObject({ code: 'connection-refused' });
    expect(one.link.report().fault?.remedy).toMatch(/5000/);
  });

  it.each([
    ['serves web pages', '<!DOCTYPE html><html><body>Welcome</body></html>'],
    ['serves broken XML', '<MTConnectDevices><Devices>'],
  ])('%s', async (_what, body) => {
    const port = await host((_url, response) => response.end(body));
    const one = linkTo(port);
    await one.becomes('refused');
    expect(one.link.report().fault?.code).toBe('mtconnect-not-understood');
    expect(one.link.report().fault?.got).toBe(body.slice(0, 200));
  });

  it('speaks no HTTP', async () => {
    const sockets = new Set<Socket>();
    const server = createTcpServer((socket) => {
      sockets.add(socket);
      socket.on('error', () => undefined);
      socket.end('+0.0012 in\r\n');
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    stopWith(() => {
      for (const socket of sockets) socket.destroy();
      return new Promise((resolve) => server.close(resolve));
    });
    const address = server.address();
    const one = linkTo(typeof address === 'object' ? address!.port : 0);
    await one.becomes('refused');
    expect(one.link.report().fault?.code).toBe('mtconnect-not-understood');
  });

  it('accepts and says nothing: told, and it closes at once', async () => {
    const port = await host(() => undefined);
    const one = linkTo(port);
    await one.becomes('refused');
    expect(one.link.report().fault?.code).toBe('mtconnect-no-answer');
    const closed = one.link.close().then(() => 'closed');
    const late = new Promise((resolve) => setTimeout(() => resolve('late'), 1000));
    expect(await Promise.race([closed, late])).toBe('closed');
  });

  it.each([
    ['one answer', 'text/xml', '<MTConnectDevices>'],
    [
      'a stream without a document',
      'multipart/x-mixed-replace;boundary=b',
      '--b\r\n\r\n<MTConnectDevices>',
    ],
  ])('pours out %s without an end: broken off, told, memory stays', async (_what, type, start) => {
    const pouring = Buffer.alloc(65_536, 0x20);
    let poured = 0;
    const port = await host((_url, response) => {
      response.writeHead(200, { 'content-type': type });
      response.write(start);
      const pour = () => {
        while (!response.destroyed && response.write(pouring)) poured += pouring.length;
        poured += pouring.length;
      };
      response.on('drain', pour);
      pour();
    });
    const one = linkTo(port);
    await one.becomes('refused', 8000);
    expect(one.link.report().fault?.code).toBe('mtconnect-too-long');
    const heapBefore = process.memoryUsage().heapUsed;
    await new Promise((resolve) => setTimeout(resolve, 3000));
    // Tried again once a second, each try broken off at its limit.
    expect(poured).toBeLessThan(100_000_000);
    expect(process.memoryUsage().heapUsed - heapBefore).toBeLessThan(50_000_000);
  });

  it('hangs up in the middle of a stream, again and again: lost, not tried in a tight loop', async () => {
    const agent = new MtconnectAgent();
    agent.set('x-actual', '1');
    const real = await agent.start();
    stopWith(() => agent.stop());
    let samples = 0;
    const port = await host((url, response) => {
      if (url.startsWith('/sample')) {
        samples += 1;
        response.writeHead(200, { 'content-type': 'multipart/x-mixed-replace;boundary=b' });
        response.write('--b\r\n');
        setTimeout(() => response.destroy(), 5);
        return;
      }
      void fetch(`http://127.0.0.1:${real}${url}`)
        .then((answer) => answer.text())
        .then((text) => response.end(text));
    });
    const one = linkTo(port);
    await one.becomes('lost');
    await new Promise((resolve) => setTimeout(resolve, 3000));
    expect(samples).toBeLessThan(8);
    expect(one.link.report().fault?.code).toBe('connection-lost');
  });
});
