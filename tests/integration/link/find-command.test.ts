import { main } from '@taptrue/server/cli/main.ts';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Device } from './device.ts';
import { tcpDevice } from './tcp-device.ts';

let device: Device;
let port: string;
let sending: NodeJS.Timeout;

beforeAll(async () => {
  device = await tcpDevice();
  if (device.source.kind !== 'tcp') throw new Error('not a socket');
  port = `tcp://${device.source.host}:${device.source.port}`;
  sending = setInterval(() => device.send('02A-000.0125\r'), 50);
});
afterAll(async () => {
  clearInterval(sending);
  await device.stop();
});

async function run(...args: string[]) {
  const out: string[] = [];
  const err: string[] = [];
  const code = await main(args, { out: (text) => out.push(text), err: (text) => err.push(text) });
  return { code, out: out.join('\n'), err: err.join('\n') };
}

describe('taptrue find', () => {
  it('says the reading to be held against the screen, and how to listen', async () => {
    const { code, out } = await run('find', '--port', port);
    expect(code).toBe(0);
    expect(out).toMatch(/Does the device’s screen say\s+-0\.0125 in {2}\(02A\) {3}\?/);
    expect(out).toContain(`taptrue listen --port ${port} --shape channel-tagged --unit in`);
    expect(device.heard()).toBe('');
  });

  it('gives objects with --json, the config of each candidate among them', async () => {
    const { code, out } = await run('find', '--port', port, '--json');
    expect(code).toBe(0);
    const objects = out.split('\n').map((line) => JSON.parse(line));
    expect(objects[0]).toMatchObject({ kind: 'step', stage: 'listening', settings: null });
    expect(objects.at(-1)).toMatchObject({
      kind: 'found',
      sends: 'streams',
      candidates: [
        { config: { shape: 'channel-tagged', unit: 'in', channel: '02A' }, value: -0.0125 },
        { config: { shape: 'channel-tagged', unit: 'mm', channel: '02A' }, value: -0.0125 },
      ],
    });
  });

  it.each([
    [[], '--port is missing'],
    [['--port', 'http://x'], 'not known'],
    [['--port', 'COM3', '--wait', 'long'], '--wait'],
    [['--port', 'COM3', 'more'], 'not expected'],
  ])('refuses %j with exit 3', async (args, words) => {
    const { code, err } = await run('find', ...args);
    expect(code).toBe(3);
    expect(err).toContain(words);
  });

  it('ends with 3 where the port cannot be opened, and says what to do', async () => {
    const { code, err } = await run('find', '--port', '/dev/no-such-port');
    expect(code).toBe(3);
    expect(err).toContain('There is no port /dev/no-such-port');
  });
});
