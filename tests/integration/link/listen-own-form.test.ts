import { main } from '@taptrue/server/cli/main.ts';
import { MtconnectAgent } from '@taptrue/simulators/mtconnect/agent.ts';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { modbusTcpServer } from './modbus-servers.ts';

let modbus: Awaited<ReturnType<typeof modbusTcpServer>>;
const agent = new MtconnectAgent();
let agentPort: number;

beforeAll(async () => {
  modbus = await modbusTcpServer();
  modbus.holding.writeInt32BE(-123456, 2 * 8);
  modbus.holding.writeInt32BE(50, 2 * 10);
  agent.set('x-actual', '12.5');
  agentPort = await agent.start();
});
afterAll(async () => {
  await modbus.stop();
  await agent.stop();
});

async function listen(...args: string[]) {
  const out: string[] = [];
  const err: string[] = [];
  const code = await main(['listen', ...args, '--seconds', '1.5'], {
    out: (text) => out.push(text),
    err: (text) => err.push(text),
  });
  return { code, out: out.join('\n'), err: err.join('\n') };
}

describe('taptrue listen', () => {
  it('shows what stands in the registers beside what it is, both axes', async () => {
    const port = `modbus-tcp://127.0.0.1:${modbus.port},holding=8,as=int32,count=0.0001`;
    const { code, out } = await listen('--port', port, '--unit', 'in', '--second', '10');
    expect(code).toBe(0);
    expect(out).toMatch(/registers 8-9: FFFE 1DC0 = -123456 +\| -12\.3456 in {2}channel 8$/m);
    expect(out).toMatch(/registers 10-11: 0000 0032 = 50 +\| \+0\.0050 in {2}channel 10$/m);
    expect(out).toMatch(/-- live$/m);
  });

  it('shows what an agent says, one object a line with --json', async () => {
    const { out } = await listen('--port', `mtconnect://127.0.0.1:${agentPort}/X`, '--json');
    const objects = out.split('\n').map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(objects).toContainEqual({
      kind: 'reading',
      ms: expect.any(Number),
      reading: expect.objectContaining({ value: 12.5, unit: 'mm', channel: 'X' }),
    });
  });

  it('says at the end what was asked in vain', async () => {
    const port = `modbus-tcp://127.0.0.1:${modbus.port},holding=8,as=int32,every=1000`;
    const { out } = await listen('--port', port, '--unit', 'mm');
    expect(out).not.toMatch(/Not answered/);
    const { err } = await listen('--port', 'modbus-tcp://127.0.0.1:1', '--unit', 'mm');
    expect(err).toMatch(/nothing listens on that port number/);
  });
});
