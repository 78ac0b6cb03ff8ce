import { type LinkName, usualRegisterRead } from '@taptrue/protocol';
import { SHIPPED } from '@taptrue/server/devices/formats/shape-table.ts';
import { ManualClock } from '@taptrue/simulators/clock.ts';
import { DemoBench } from '@taptrue/simulators/demo-bench.ts';
import { BenchRegisters } from '@taptrue/simulators/modbus/bench-registers.ts';
import { afterEach, describe, expect, it } from 'vitest';
import { listeningRoom } from './listening-room.ts';
import { modbusRtuServer } from './modbus-servers.ts';
import { noPtyBecause } from './pty-device.ts';

const stops: (() => Promise<unknown> | unknown)[] = [];
afterEach(async () => {
  for (const stop of stops.splice(0).reverse()) await stop();
});

function room() {
  const { made, readings, reports } = listeningRoom();
  stops.push(() => made.close());
  const read = async (
    link: LinkName,
    path: string,
    change: Partial<ReturnType<typeof usualRegisterRead>>,
  ) => {
    const source = {
      kind: 'modbus rtu',
      path,
      settings: null,
      read: { ...usualRegisterRead(), everyMs: 20, ...change },
    } as const;
    expect(
      await made.connect(link, { source, shape: '', unit: 'mm', channel: null }),
    ).toMatchObject({ ok: true });
  };
  const come = (link: LinkName, count: number) =>
    expect.poll(() => readings[link].length, { timeout: 10_000 }).toBeGreaterThan(count);
  return { made, readings, reports, read, come };
}

/** Indicator as unit 1 and readout as unit 2 on one line. */
async function simulatedUnits() {
  const bench = new DemoBench({
    seed: 3,
    clock: new ManualClock(),
    indicatorShape: SHIPPED.named('signed-decimal')!,
    readoutShape: SHIPPED.named('axis-readout')!,
    unit: 'mm',
  });
  const registers = new BenchRegisters({
    bench,
    unit: 'mm',
    tcpPort: null,
    onPty: true,
    link: null,
  });
  stops.push(() => bench.close());
  stops.push(() => registers.stop());
  await registers.start();
  const path = /modbus-rtu:([^,]+),/.exec(registers.serveOptions()[0]!)![1]!;
  return { bench, path };
}

describe.skipIf(noPtyBecause() !== null)('indicator and readout on one serial line', () => {
  it('as two units are both live, and neither has a number of the other', async () => {
    const { bench, path } = await simulatedUnits();
    bench.act({ act: 'table to', xMm: 101.6 });
    const { readings, reports, read, come } = room();
    await read('indicator', path, { unitId: 1, form: 'int32', perCount: 0.0001 });
    await come('indicator', 3);
    await read('readout', path, {
      unitId: 2,
      function: 4,
      address: 2,
      form: 'float32',
      perCount: 1,
    });
    await come('readout', 30);
    await come('indicator', 30);
    expect(new Set(readings.readout.map(({ valueMm }) => valueMm))).toEqual(new Set([101.6]));
    for (const { valueMm } of readings.indicator) expect(Math.abs(valueMm!)).toBeLessThan(2);
    for (const link of ['indicator', 'readout'] as const) {
      expect(reports[link]).toMatchObject({
        state: 'live',
        counters: { unanswered: 0, framesNotUnderstood: 0 },
      });
    }
  });

  it('as one unit with two registers, of a server that nobody here wrote, are never mixed up', async () => {
    const server = await modbusRtuServer();
    stops.push(server.stop);
    server.holding.writeInt16BE(1111, 0);
    server.holding.writeInt16BE(2222, 2 * 10);
    const { made, readings, reports, read, come } = room();
    await read('indicator', server.path, { address: 0 });
    await read('readout', server.path, { address: 10 });
    await come('readout', 40);
    await come('indicator', 40);
    const values = (link: LinkName) => [...new Set(readings[link].map(({ value }) => value))];
    expect(values('indicator')).toEqual([1.111]);
    expect(values('readout')).toEqual([2.222]);
    // One is closed: the other goes on.
    await made.disconnect('indicator');
    await come('readout', readings.readout.length + 10);
    expect(reports.readout?.state).toBe('live');
  });

  it('the one that is switched off is told as that one, and the other stays live', async () => {
    const { path } = await simulatedUnits();
    const { readings, reports, read, come } = room();
    await read('readout', path, { unitId: 2, form: 'int32', perCount: 0.0001 });
    await come('readout', 3);
    await read('indicator', path, { unitId: 9 });
    const states = new Set<string>();
    await expect
      .poll(
        () => {
          states.add(reports.readout!.state);
          return reports.indicator?.state;
        },
        { timeout: 10_000, interval: 10 },
      )
      .toBe('silent');
    expect(reports.indicator?.fault?.code).toBe('modbus-no-answer');
    await come('readout', readings.readout.length + 30);
    expect([...states, reports.readout?.state]).toEqual(['live', 'live']);
    expect(reports.readout?.counters.unanswered).toBe(0);
  });
});
