import { createServer, type Server, type Socket } from 'node:net';
import type { LinkConfig } from '@taptrue/protocol';
import { afterEach, describe, expect, it } from 'vitest';
import { listeningRoom } from './listening-room.ts';

const running: { close(): unknown }[] = [];
afterEach(async () => {
  for (const one of running.splice(0)) await one.close();
});

/** A serial device server on this machine; `serve` speaks to each connection. */
async function deviceServer(serve: (socket: Socket) => void) {
  const sockets = new Set<Socket>();
  let connections = 0;
  const server: Server = createServer((socket) => {
    connections += 1;
    sockets.add(socket);
    socket.on('error', () => undefined);
    socket.on('close', () => sockets.delete(socket));
    serve(socket);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  running.push({
    close: () => {
      for (const socket of sockets) socket.destroy();
      server.close();
    },
  });
  const address = server.address();
  const port = typeof address === 'object' && address ? address.port : 0;
  return { port, connections: () => connections, open: () => sockets.size };
}

const streams =
  (text: string, everyMs = 20) =>
  (socket: Socket) => {
    const timer = setInterval(() => socket.write(text), everyMs);
    socket.on('close', () => clearInterval(timer));
  };

function room() {
  const room = listeningRoom();
  running.unshift(room.made);
  return room;
}

const config = (port: number, shape: string, channel: string | null = null): LinkConfig => ({
  source: { kind: 'tcp', host: '127.0.0.1', port },
  shape,
  unit: 'mm',
  channel,
});

describe('the devices of a bench', () => {
  it('read two channels of one box over one connection, and let it go with the last', async () => {
    const box = await deviceServer(streams('01A+000.1250\r02A+012.5000\r'));
    const { made, readings, reports } = room();
    await made.connect('indicator', config(box.port, 'channel-tagged', '01A'));
    await made.connect('readout', config(box.port, 'channel-tagged', '02A'));
    await expect.poll(() => readings.readout.length, { timeout: 4000 }).toBeGreaterThan(3);
    expect(new Set(readings.indicator.map(({ value }) => value))).toEqual(new Set([0.125]));
    expect(new Set(readings.readout.map(({ value }) => value))).toEqual(new Set([12.5]));
    expect([reports.indicator?.state, reports.readout?.state]).toEqual(['live', 'live']);
    expect(box.connections()).toBe(1);
    await made.disconnect('indicator');
    const before = readings.readout.length;
    await expect.poll(() => readings.readout.length).toBeGreaterThan(before);
    await made.disconnect('readout');
    await expect.poll(() => box.open()).toBe(0);
  });

  it('give what they do not understand to the record as it came, ten of it a second and how many more', async () => {
    const other = await deviceServer(streams('POS=+12,5 furlongs\r\n', 10));
    const { made, readings, unread } = room();
    await made.connect('indicator', config(other.port, 'signed-decimal'));
    await expect.poll(() => unread.length, { timeout: 5000 }).toBeGreaterThan(10);
    await made.disconnect('indicator');
    expect(readings.indicator).toEqual([]);
    expect(new Set(unread.map(({ text }) => text))).toEqual(new Set(['POS=+12,5 furlongs']));
    expect(unread[10]!.atMs - unread[0]!.atMs).toBeGreaterThanOrEqual(1000);
    expect(unread.slice(0, 10).map(({ leftOut }) => leftOut)).toEqual(Array(10).fill(0));
    expect(unread[10]!.leftOut).toBeGreaterThan(20);
  });

  it('are unharmed by one that connects and drops, and by one that talks without end', async () => {
    const good = await deviceServer(streams('+12.5000 mm\r\n'));
    const drops = await deviceServer((socket) => {
      socket.write('+0.1\r\n');
      setTimeout(() => socket.destroy(), 30);
    });
    const { made, readings, reports, faults } = room();
    await made.connect('readout', config(good.port, 'signed-decimal'));
    await made.connect('indicator', config(drops.port, 'signed-decimal'));
    await expect
      .poll(() => faults.map(({ code }) => code), { timeout: 12_000 })
      .toEqual(['comes-and-goes']);
    expect(drops.open()).toBeLessThanOrEqual(1);
    expect(drops.connections()).toBeLessThan(20);
    expect(reports.readout?.state).toBe('live');

    const junk = Buffer.alloc(65_536, 0x55);
    const floods = await deviceServer((socket) => {
      const pour = () => {
        while (!socket.destroyed && socket.write(junk));
      };
      socket.on('drain', pour);
      pour();
    });
    await made.connect('indicator', config(floods.port, 'signed-decimal'));
    const before = readings.readout.length;
    await expect
      .poll(() => reports.indicator?.counters.bytes ?? 0, { timeout: 8000 })
      .toBeGreaterThan(10_000_000);
    expect(reports.indicator?.state).not.toBe('live');
    expect(reports.indicator?.line?.rows.length).toBeLessThanOrEqual(6);
    await expect.poll(() => readings.readout.length).toBeGreaterThan(before);
    expect(reports.readout?.state).toBe('live');
  });
});
