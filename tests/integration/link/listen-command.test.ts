import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
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
  let flips = 0;
  sending = setInterval(() => {
    flips += 1;
    device.send(flips % 50 === 49 ? 'what?\r\n' : '-0.0021 in\r\n');
  }, 10);
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

describe('taptrue listen', () => {
  it('prints bytes and readings side by side, states, and the counters at its end', async () => {
    const { code, out } = await run(
      'listen',
      '--port',
      port,
      '--shape',
      'signed-decimal',
      '--seconds',
      '1',
    );
    expect(code).toBe(0);
    expect(out).toMatch(/"-0\.0021 in\\r\\n" +\| -0\.0021 in$/m);
    expect(out).toMatch(/"what\?\\r\\n" +\|$/m);
    expect(out).toMatch(/-- live$/m);
    expect(out).toMatch(/\d+ readings from \d+ bytes\./);
    expect(out).toMatch(/not understood [1-9]/);
  });

  it('prints one object a line with --json', async () => {
    const { out } = await run(
      'listen',
      '--port',
      port,
      '--shape',
      'signed-decimal',
      '--seconds',
      '0.5',
      '--json',
    );
    const objects = out.split('\n').map((line) => JSON.parse(line) as { kind: string });
    expect(new Set(objects.map((object) => object.kind))).toEqual(
      new Set(['bytes', 'state', 'end']),
    );
    expect(objects.at(-1)).toMatchObject({ kind: 'end', counters: { reconnects: 0 } });
  });

  it('says what to do where the line carries no unit and none is set', async () => {
    const { out } = await run(
      'listen',
      '--port',
      port,
      '--shape',
      'signed-decimal',
      '--unit',
      'mm',
      '--seconds',
      '0.5',
    );
    expect(out).toMatch(/sends inches; it was read as millimetres/);
    expect(out).toMatch(/^0 readings/m);
  });

  it('refuses a port that does not exist, with exit 3 and the reason', async () => {
    const { code, err } = await run(
      'listen',
      '--port',
      '/dev/taptrue-no-such-port',
      '--shape',
      'signed-decimal',
    );
    expect(code).toBe(3);
    expect(err).toMatch(/There is no port \/dev\/taptrue-no-such-port/);
  });

  it.skipIf(process.platform === 'win32')('ends on Ctrl-C with its counters', async () => {
    const bin = fileURLToPath(new URL('../../../server/bin/taptrue.js', import.meta.url));
    const child = spawn(process.execPath, [
      bin,
      'listen',
      '--port',
      port,
      '--shape',
      'signed-decimal',
    ]);
    let out = '';
    child.stdout.on('data', (chunk: Buffer) => {
      out += chunk.toString();
    });
    const exited = new Promise((resolve) => child.once('exit', resolve));
    await expect.poll(() => out, { timeout: 45_000 }).toMatch(/-- live/);
    child.kill('SIGINT');
    expect(await exited).toBe(0);
    expect(out).toMatch(/reconnected 0\./);
  });
});
