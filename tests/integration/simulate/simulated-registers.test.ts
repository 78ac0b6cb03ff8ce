import { Socket } from 'node:net';
import { main } from '@taptrue/server/cli/main.ts';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { ManualClock } from '@taptrue/simulators/clock.ts';
import { DemoBench } from '@taptrue/simulators/demo-bench.ts';
import { BenchRegisters } from '@taptrue/simulators/modbus/bench-registers.ts';
import { client as jsmodbus } from 'jsmodbus';
import { SerialPort } from 'serialport';
import { afterEach, describe, expect, it } from 'vitest';
import { noPtyBecause } from '../link/pty-device.ts';

const stops: (() => Promise<unknown> | unknown)[] = [];
afterEach(async () => {
  for (const stop of stops.splice(0).reverse()) await stop();
});

const shape = (name: string) => SHAPES.find((one) => one.name === name)!;

async function simulated(line: { tcpPort: number | null; onPty: boolean }) {
  const bench = new DemoBench({
    seed: 3,
    clock: new ManualClock(),
    indicatorShape: shape('signed-decimal'),
    readoutShape: shape('axis-readout'),
    unit: 'mm',
  });
  const registers = new BenchRegisters({ bench, unit: 'mm', link: null, ...line });
  stops.push(() => bench.close());
  stops.push(() => registers.stop());
  await registers.start();
  const [options] = registers.serveOptions();
  return { bench, options: options! };
}

/** A client of a library that nobody here wrote, on TCP: Modbus messaging on TCP/IP V1.0b. */
async function tcpClient(options: string, unit: number) {
  const port = Number(/127\.0\.0\.1:(\d+)/.exec(options)![1]);
  const socket = new Socket();
  const client = new jsmodbus.TCP(socket, unit);
  stops.push(() => socket.destroy());
  await new Promise<void>((resolve) => socket.connect(port, '127.0.0.1', resolve));
  return client;
}

/** The same library on a serial line: Modbus over serial line V1.02. */
async function serialPort(options: string) {
  const path = /modbus-rtu:([^,]+),/.exec(options)![1]!;
  const port = new SerialPort({ path, baudRate: 19200, parity: 'even', autoOpen: false });
  await new Promise<void>((resolve, reject) =>
    port.open((error) => (error ? reject(error) : resolve())),
  );
  stops.push(() => new Promise<void>((resolve) => port.close(() => resolve())));
  return port;
}

describe('the simulated bench as registers, asked by a library that nobody here wrote', () => {
  it('by TCP shows the table, to the count and as a float, on both kinds of registers', async () => {
    const { bench, options } = await simulated({ tcpPort: 0, onPty: false });
    bench.act({ act: 'table to', xMm: 101.6 });
    const readout = await tcpClient(options, 2);
    for (const read of ['readHoldingRegisters', 'readInputRegisters'] as const) {
      const { response } = await readout[read](0, 4);
      const bytes = response.body.valuesAsBuffer;
      expect(bytes.readInt32BE(0)).toBe(1_016_000);
      expect(bytes.readFloatBE(4)).toBeCloseTo(101.6, 4);
    }
    bench.act({ act: 'table to', xMm: -10 });
    const { response } = await readout.readHoldingRegisters(0, 2);
    expect(response.body.valuesAsBuffer.readInt32BE(0)).toBe(-100_000);
  });

  // Exceptions 1, 2, 3 and 11: application protocol V1.1b3, 7.
  it.each([
    ['a register that is not there', 2, 4, 1, 2],
    ['more registers than a request may name', 2, 0, 126, 3],
    ['a unit that is not there', 9, 0, 2, 11],
  ])('refuses %s with the reason', async (_what, unit, address, count, reason) => {
    const { options } = await simulated({ tcpPort: 0, onPty: false });
    const asking = (await tcpClient(options, unit)).readHoldingRegisters(address, count);
    await expect(asking).rejects.toMatchObject({ response: { body: { code: reason } } });
  });

  it('refuses to be written to', async () => {
    const { options } = await simulated({ tcpPort: 0, onPty: false });
    const asking = (await tcpClient(options, 1)).writeSingleRegister(0, 7);
    await expect(asking).rejects.toMatchObject({ response: { body: { code: 1 } } });
  });

  it.skipIf(noPtyBecause() !== null)('on one serial line two units answer in turn', async () => {
    const { bench, options } = await simulated({ tcpPort: null, onPty: true });
    bench.act({ act: 'table to', xMm: 50 });
    const port = await serialPort(options);
    const readout = new jsmodbus.RTU(port, 2);
    const { response } = await readout.readInputRegisters(2, 2);
    expect(response.body.valuesAsBuffer.readFloatBE(0)).toBeCloseTo(50, 4);
    const indicator = new jsmodbus.RTU(port, 1);
    const own = await indicator.readHoldingRegisters(0, 2);
    const shown = bench.indicator.shownNow!;
    // The last digit of a display flickers by the noise of the simulated indicator.
    expect(Math.abs(own.response.body.valuesAsBuffer.readInt32BE(0) / 10_000 - shown)).toBeLessThan(
      0.005,
    );
    expect(Math.abs(shown)).toBeGreaterThan(0.005);
  });
});

it('a port that is taken is refused in words', async () => {
  const { options } = await simulated({ tcpPort: 0, onPty: false });
  const port = /127\.0\.0\.1:(\d+)/.exec(options)![1]!;
  const err: string[] = [];
  const terminal = { out: () => undefined, err: (text: string) => err.push(text) };
  expect(await main(['simulate', '--device', 'none', '--modbus', port], terminal)).toBe(3);
  expect(err.join('')).toMatch(/could not listen on port \d+ .*give another --modbus/);
});
