import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { firstSetup } from '@taptrue/protocol';
import { noNudges } from '@taptrue/server/bench/nudge-desk.ts';
import { type BenchMemory, readMemory, writeMemory } from '@taptrue/server/service/bench-memory.ts';
import { afterEach, beforeEach, expect, test } from 'vitest';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'taptrue-memory-'));
});
afterEach(() => rm(folder, { recursive: true }));

const memory = (name = 'at the handwheel'): BenchMemory => ({
  version: 1,
  setup: { ...firstSetup(), rises: 'toward', stationsMm: [0, 63.5, 127] },
  nudges: noNudges(),
  links: {
    indicator: {
      source: { kind: 'serial', path: '/dev/ttyUSB0', settings: null },
      shape: 'signed-decimal',
      unit: 'as sent',
      channel: null,
    },
    readout: null,
  },
  tablets: [{ id: 'a1', name, tokenSha256: 'ab'.repeat(32) }],
});

test('what is written is read again, number for number', async () => {
  const path = join(folder, 'a', 'b', 'bench.json');
  await writeMemory(path, memory());
  expect(await readMemory(path)).toEqual({ memory: memory(), fault: null });
  await writeMemory(path, memory('another'));
  expect((await readMemory(path)).memory).toEqual(memory('another'));
});

test('where nothing was remembered yet there is no memory and no fault', async () => {
  expect(await readMemory(join(folder, 'bench.json'))).toEqual({ memory: null, fault: null });
});

const whole = JSON.stringify(memory());
test.each([
  ['is empty', ''],
  ['was cut off', whole.slice(0, whole.length / 2)],
  ['is not JSON', 'remember me'],
  ['is of a later version', whole.replace('"version":1', '"version":2')],
  ['lacks a part', JSON.stringify({ ...memory(), nudges: undefined })],
  ['has a part that is not known', JSON.stringify({ ...memory(), more: 1 })],
  ['has a tablet that could not be compared', whole.replace('ab'.repeat(32), 'abcd')],
  [
    'has a setup that is not one',
    JSON.stringify({ ...memory(), setup: { ...firstSetup(), sweptLengthMm: -1 } }),
  ],
])('a file that %s is a fault that names it, and is not touched', async (_case, text) => {
  const path = join(folder, 'bench.json');
  await writeFile(path, text);
  const read = await readMemory(path);
  expect(read.memory).toBeNull();
  expect(read.fault).toMatchObject({ code: 'memory-not-read' });
  expect(read.fault!.got).toContain(path);
  expect(await readFile(path, 'utf8')).toBe(text);
});

test('something that is no file is a fault, not a crash', async () => {
  const path = join(folder, 'bench.json');
  await mkdir(path);
  expect((await readMemory(path)).fault).toMatchObject({ code: 'memory-not-read' });
});

test('a write that is cut off leaves the old memory, and the next write goes through', async () => {
  const path = join(folder, 'bench.json');
  await writeMemory(path, memory('old'));
  // What a service that was killed in the middle of writing leaves: a part of the new file beside the old.
  await writeFile(`${path}.new`, whole.slice(0, 100));
  expect((await readMemory(path)).memory).toEqual(memory('old'));
  await writeMemory(path, memory('new'));
  expect((await readMemory(path)).memory).toEqual(memory('new'));
  expect(await readdir(folder)).toEqual(['bench.json']);
});
