import type { LinkConfig } from '@taptrue/protocol';
import { usualRegisterRead } from '@taptrue/protocol';
import { MtconnectAgent } from '@taptrue/simulators/mtconnect/agent.ts';
import { afterEach, describe, expect, it } from 'vitest';
import { listeningRoom } from './listening-room.ts';
import { modbusTcpServer } from './modbus-servers.ts';

const stops: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const stop of stops.splice(0)) await stop();
});

function room() {
  const room = listeningRoom();
  stops.unshift(() => room.made.close());
  return room;
}

async function registers(): Promise<LinkConfig> {
  const server = await modbusTcpServer();
  stops.push(server.stop);
  server.holding.writeInt16BE(-21, 0);
  const read = { ...usualRegisterRead(), everyMs: 20 };
  const source = { kind: 'modbus tcp', host: '127.0.0.1', port: server.port, read } as const;
  return { source, shape: '', unit: 'mm', channel: null };
}

const agentAt = (port: number): LinkConfig => ({
  source: {
    kind: 'mtconnect',
    host: '127.0.0.1',
    port,
    path: '',
    item: 'X',
    way: 'stream',
    everyMs: 20,
  },
  shape: '',
  unit: 'as sent',
  channel: null,
  secondChannel: 'Y',
});

describe('a bench with an indicator in registers and the positions of an agent', () => {
  it('reads both without a line shape, and the saddle beside the table', async () => {
    const agent = new MtconnectAgent();
    agent.set('x-actual', '101.6');
    agent.set('y-actual', '0.02');
    const port = await agent.start();
    stops.push(() => agent.stop());
    const { made, readings, second, reports } = room();
    expect(await made.connect('indicator', await registers())).toMatchObject({ ok: true });
    expect(await made.connect('readout', agentAt(port))).toMatchObject({ ok: true });
    await expect.poll(() => readings.readout.length, { timeout: 6000 }).toBeGreaterThan(2);
    await expect.poll(() => readings.indicator.length, { timeout: 6000 }).toBeGreaterThan(2);
    expect(readings.indicator[0]).toMatchObject({ valueMm: -0.021 });
    expect(readings.readout[0]).toMatchObject({ valueMm: 101.6, channel: 'X' });
    expect(second[0]).toMatchObject({ valueMm: 0.02, channel: 'Y' });
    expect(reports.indicator).toMatchObject({ state: 'live', trigger: 'asked' });
    expect(made.configs.readout).toEqual(agentAt(port));
  });

  it('loses the one without harm to the other', async () => {
    const agent = new MtconnectAgent();
    agent.set('x-actual', '1');
    const port = await agent.start();
    stops.push(() => agent.stop());
    const { made, readings, reports } = room();
    await made.connect('indicator', await registers());
    await made.connect('readout', agentAt(port));
    await expect.poll(() => reports.readout?.state, { timeout: 6000 }).toBe('live');
    await agent.stop();
    await expect.poll(() => reports.readout?.state, { timeout: 6000 }).toBe('lost');
    const before = readings.indicator.length;
    await expect
      .poll(() => readings.indicator.length, { timeout: 6000 })
      .toBeGreaterThan(before + 5);
    expect(reports.indicator?.state).toBe('live');
  });
});
