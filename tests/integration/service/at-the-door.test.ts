import { statSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { readOwnShapes, writeOwnShape } from '@taptrue/server/devices/shape-folder.ts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { listening, newFolder } from './running-service.ts';

let bench: Awaited<ReturnType<typeof listening>>;
beforeAll(async () => {
  bench = await listening();
});
afterAll(() => bench.clear());

/** The head of the answer to bytes as they are, which no library would send. */
function said(request: string): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = '';
    const socket = connect(bench.port, '127.0.0.1', () => socket.write(request));
    socket.on('data', (piece) => {
      text += piece.toString('latin1');
    });
    socket.on('close', () => resolve(text));
    socket.on('error', reject);
  });
}

const asking = (...headers: string[]) =>
  said(`GET /api/state HTTP/1.1\r\n${headers.join('\r\n')}\r\nConnection: close\r\n\r\n`);

test('one Host that is ours is let in, and what it is told is kept nowhere', async () => {
  const answer = await asking(`Host: 127.0.0.1:${bench.port}`);
  expect(answer).toMatch(/^HTTP\/1\.1 200/);
  expect(answer.toLowerCase()).toContain('cache-control: no-store');
  expect(answer).toMatch(/connect-src 'self'(;|\r)/i);
});

test.each([
  ['ours and another', (ours: string) => [`Host: ${ours}`, 'Host: elsewhere.example']],
  ['another and ours', (ours: string) => ['Host: elsewhere.example', `Host: ${ours}`]],
  ['ours twice', (ours: string) => [`Host: ${ours}`, `HOST: ${ours}`]],
])('two Hosts, %s, are refused', async (_what, hosts) => {
  const answer = await asking(...hosts(`127.0.0.1:${bench.port}`));
  expect(answer).toMatch(/^HTTP\/1\.1 (400|421)/);
});

test.runIf(process.platform !== 'win32')('records are for their owner alone', () => {
  expect(statSync(join(bench.dataFolder, 'mill')).mode & 0o077).toBe(0);
});

test('a shape named as Windows names a device is kept under another file', async () => {
  const folder = await newFolder();
  const shape = { ...shapeNamed('signed-decimal')!, name: 'con', title: 'A form of its own' };
  await writeOwnShape(folder, shape);
  expect(() => statSync(join(folder, 'con.json'))).toThrow();
  const { shapes } = readOwnShapes(folder);
  expect(shapes.map(({ name }) => name)).toEqual(['con']);
});
