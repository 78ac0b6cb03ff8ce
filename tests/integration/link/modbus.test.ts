import { createServer, type Socket } from 'node:net';
import {
  type LinkConfig,
  type LinkReport,
  type Reading,
  type RegisterRead,
  usualRegisterRead,
} from '@taptrue/protocol';
import { SYSTEM_CLOCK } from '@taptrue/server/devices/transport/clock.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { sourceFor } from '@taptrue/server/devices/transport/source-for.ts';
import { afterEach, describe, expect, it } from 'vitest';
import { type ModbusServer, modbusRtuServer, modbusTcpServer } from './modbus-servers.ts';
import { noPtyBecause } from './pty-device.ts';

const noSimulation = (): never => {
  throw new Error('no simulation here');
};

const open: Link[] = [];
const stops: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  await Promise.all(open.splice(0).map((link) => link.close()));
  await Promise.all(stops.splice(0).map((stop) => stop()));
});

function linkTo(source: LinkConfig['source'], more: Partial<LinkConfig> = {}) {
  const config: LinkConfig = { source, shape: '', unit: 'mm', channel: null, ...more };
  const readings: Reading[] = [];
  const second: Reading[] = [];
  const reports: LinkReport[] = [];
  const clock = SYSTEM_CLOCK;
  const link = new Link({
    name: 'readout',
    config,
    source: sourceFor({
      name: 'readout',
      config,
      shape: null,
      clock,
      simulatedPipes: noSimulation,
    }),
    clock,
    onReading: (reading) => readings.push(reading),
    onSecond: (reading) => second.push(reading),
    onReport: (report) => reports.push(report),
  });
  open.push(link);
  link.open();
  const becomes = (state: string, timeout = 4000) =>
    expect.poll(() => link.report().state, { timeout, interval: 10 }).toBe(state);
  return { link, readings, second, reports, becomes };
}

const reading = (change: Partial<RegisterRead>): RegisterRead => ({
  ...usualRegisterRead(),
  everyMs: 20,
  ...change,
});

/** A TCP host of the test's own. */
async function host(onSocket: (socket: Socket) => void) {
  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => undefined);
    onSocket(socket);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  stops.push(async () => {
    for (const socket of sockets) socket.destroy();
    await new Promise((resolve) => server.close(resolve));
  });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return { kind: 'modbus tcp', host: '127.0.0.1', port: address.port } as const;
}

interface Served {
  server: ModbusServer;
  source(read: RegisterRead): LinkConfig['source'];
}

async function overTcp(): Promise<Served> {
  const server = await modbusTcpServer();
  const { port } = server;
  return { server, source: (read) => ({ kind: 'modbus tcp', host: '127.0.0.1', port, read }) };
}

async function overPty(): Promise<Served> {
  const server = await modbusRtuServer();
  const { path } = server;
  return { server, source: (read) => ({ kind: 'modbus rtu', path, settings: null, read }) };
}

const LINES: [string, () => Promise<Served>][] = [['TCP', overTcp]];
if (noPtyBecause() === null) LINES.push(['RTU on a pseudo-terminal', overPty]);

describe.each(LINES)('a Modbus server that nobody here wrote, over %s', (_line, start) => {
  it('is read in every form and byte order, of both kinds of registers', async () => {
    const { server, source } = await start();
    stops.push(server.stop);
    server.holding.writeInt16BE(-1234, 2 * 10);
    server.input.writeUInt16BE(54321, 2 * 11);
    server.holding.writeInt32BE(-1234567, 2 * 20);
    server.input.writeUInt32BE(3_000_000_000, 2 * 22);
    server.holding.writeFloatBE(12.3456, 2 * 30);
    server.holding.writeUInt16BE(0x2000, 2 * 40);
    server.holding.writeUInt16BE(0x47f1, 2 * 41);
    server.input.writeUInt16BE(0xf147, 2 * 42);
    server.input.writeUInt16BE(0x0020, 2 * 43);
    server.input.writeUInt16BE(0x0020, 2 * 44);
    server.input.writeUInt16BE(0xf147, 2 * 45);
    const cases: [Partial<RegisterRead>, number][] = [
      [{ address: 10, form: 'int16', perCount: 0.001 }, -1.234],
      [{ function: 4, address: 11, form: 'uint16', perCount: 0.0005 }, 27.1605],
      [{ address: 20, form: 'int32', perCount: 0.0001 }, -123.4567],
      [{ function: 4, address: 22, form: 'uint32', perCount: 0.000001 }, 3000],
      [{ address: 30, form: 'float32', perCount: 1 }, 12.3456],
      [{ address: 40, form: 'float32', order: 'CDAB', perCount: 1 }, 123456],
      [{ function: 4, address: 42, form: 'float32', order: 'BADC', perCount: 1 }, 123456],
      [{ function: 4, address: 44, form: 'float32', order: 'DCBA', perCount: 1 }, 123456],
    ];
    for (const [change, value] of cases) {
      const one = linkTo(source(reading(change)));
      await expect.poll(() => one.readings.length, { timeout: 4000 }).toBeGreaterThan(0);
      expect(one.readings[0]?.value).toBe(value);
      await one.link.close();
    }
  });

  it('is followed as its registers change, both axes at one moment', async () => {
    const { server, source } = await start();
    stops.push(server.stop);
    const one = linkTo(source(reading({ form: 'int32', address: 4 })), { secondChannel: '6' });
    await one.becomes('live');
    let step = 0;
    const moving = setInterval(() => {
      step += 1;
      server.holding.writeInt32BE(step, 8);
      server.holding.writeInt32BE(-step, 12);
    }, 5);
    await expect.poll(() => one.readings.length, { timeout: 6000 }).toBeGreaterThan(30);
    clearInterval(moving);
    const values = one.readings.map(({ value }) => value!);
    expect(values).toEqual([...values].sort((a, b) => a - b));
    // Written and read in one step each, so no pair may be torn.
    one.second.forEach((other, at) => {
      expect(other.value).toBe(one.readings[at]!.value! === 0 ? 0 : -one.readings[at]!.value!);
      expect(other.atMs).toBe(one.readings[at]!.atMs);
    });
    expect(one.link.report().counters).toMatchObject({ unanswered: 0, framesNotUnderstood: 0 });
  });
});

describe('a host that is no good Modbus device', () => {
  it('accepts and says nothing: silent, and it closes at once', async () => {
    const place = await host(() => undefined);
    const one = linkTo({ ...place, read: reading({}) });
    await one.becomes('silent');
    expect(one.link.report().fault?.code).toBe('modbus-no-answer');
    const beforeMs = performance.now();
    await one.link.close();
    expect(performance.now() - beforeMs).toBeLessThan(1000);
  });

  it('refuses every register: told with the reason', async () => {
    const place = await host((socket) => {
      socket.on('data', (request) => {
        const answer = Buffer.from([request[0]!, request[1]!, 0, 0, 0, 3, request[6]!, 0x83, 2]);
        socket.write(answer);
      });
    });
    const one = linkTo({ ...place, read: reading({ address: 9999 }) });
    await one.becomes('not understood');
    expect(one.link.report().fault?.what).toMatch(/no such register/);
    expect(one.link.report().fault?.remedy).toMatch(/50000/);
  });

  it('pours out noise without an end: told, and memory stays where it was', async () => {
    const noise = Buffer.alloc(65_536, 0x55);
    const place = await host((socket) => {
      const pour = () => {
        while (!socket.destroyed && socket.write(noise));
      };
      socket.on('drain', pour);
      pour();
    });
    const one = linkTo({ ...place, read: reading({}) });
    await one.becomes('not understood', 8000);
    const heapBefore = process.memoryUsage().heapUsed;
    const bytesBefore = one.link.report().counters.bytes;
    await expect
      .poll(() => one.link.report().counters.bytes - bytesBefore, { timeout: 20_000 })
      .toBeGreaterThan(50_000_000);
    expect(process.memoryUsage().heapUsed - heapBefore).toBeLessThan(50_000_000);
    expect(one.readings).toEqual([]);
  });

  it('accepts and hangs up again and again: lost, and not tried in a tight loop', async () => {
    let accepted = 0;
    const place = await host((socket) => {
      accepted += 1;
      socket.destroy();
    });
    const one = linkTo({ ...place, read: reading({}) });
    await one.becomes('lost');
    await new Promise((resolve) => setTimeout(resolve, 3000));
    expect(accepted).toBeLessThan(8);
    expect(one.link.report().fault?.code).toBe('connection-lost');
  });

  it('is not there: refused, with what the system said', async () => {
    const one = linkTo({ kind: 'modbus tcp', host: '127.0.0.1', port: 1, read: reading({}) });
    await one.becomes('refused');
    expect(one.link.report().fault?.code).toBe('connection-refused');
  });
});
