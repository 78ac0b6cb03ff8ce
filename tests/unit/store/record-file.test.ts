import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Fault, RecordEntry } from '@taptrue/protocol';
import {
  MOST_HELD_ENTRIES,
  RETRY_AFTER_MS,
  RecordFile,
  WRITE_EVERY_MS,
} from '@taptrue/server/store/record-file.ts';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { FakeDisk } from './fake-disk.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const entry = (atMs: number): RecordEntry => ({
  entry: 'link',
  atMs,
  link: 'indicator',
  state: 'live',
});

function recordOn(disk: FakeDisk) {
  const faults: (Fault | null)[] = [];
  const record = new RecordFile('/data/job.ndjson', (fault) => faults.push(fault), disk);
  return { record, faults };
}

const times = (disk: FakeDisk) =>
  disk.lines().map((line) => (JSON.parse(line) as RecordEntry).atMs);
const numbers = (count: number) => Array.from({ length: count }, (_, index) => index);

describe('a record', () => {
  test('is one line of JSON an entry, in the order they were added', async () => {
    const disk = new FakeDisk();
    const { record } = recordOn(disk);
    for (const atMs of numbers(100)) record.add(entry(atMs));
    expect(await record.flush()).toBe(true);
    for (const atMs of numbers(100)) record.add(entry(100 + atMs));
    await record.close();
    expect(times(disk)).toEqual(numbers(200));
    expect(disk.opened).toEqual(['/data/job.ndjson']);
  });

  test('acknowledges nothing before it is on the disk', async () => {
    const disk = new FakeDisk();
    const { record } = recordOn(disk);
    record.add(entry(1));
    expect(disk.synced).toBe('');
    await record.flush();
    expect(disk.synced).toBe(disk.text);
    expect(times(disk)).toEqual([1]);
  });

  test('is written by itself within the time that streamed readings may wait', async () => {
    const disk = new FakeDisk();
    const { record } = recordOn(disk);
    record.add(entry(1));
    await vi.advanceTimersByTimeAsync(WRITE_EVERY_MS);
    expect(times(disk)).toEqual([1]);
    await record.close();
  });

  test('flushed by several at once is written once, in order', async () => {
    const disk = new FakeDisk();
    const { record } = recordOn(disk);
    const flushed = numbers(20).map((atMs) => {
      record.add(entry(atMs));
      return record.flush();
    });
    expect(new Set(await Promise.all(flushed))).toEqual(new Set([true]));
    expect(times(disk)).toEqual(numbers(20));
    expect(disk.writes).toBeLessThanOrEqual(3);
  });

  test('keeps what is added while it is being closed', async () => {
    const disk = new FakeDisk();
    const { record } = recordOn(disk);
    record.add(entry(1));
    const closing = record.close();
    record.add(entry(2));
    await closing;
    expect(times(disk)).toEqual([1, 2]);
    expect(disk.isClosed).toBe(true);
  });

  test('takes nothing after it was closed', async () => {
    const disk = new FakeDisk();
    const { record } = recordOn(disk);
    await record.close();
    record.add(entry(1));
    await vi.advanceTimersByTimeAsync(10_000);
    expect(disk.opened).toEqual([]);
  });
});

describe.each([
  ['opening', 'ENOENT'],
  ['writing', 'ENOSPC'],
  ['half a write', 'ENOSPC'],
  ['syncing', 'EIO'],
] as const)('where %s fails', (what, code) => {
  test.each(numbers(4).map((nth) => nth + 1))(
    'once, at time %d, nothing is lost or doubled and the fault stands until it works',
    async (nth) => {
      const disk = new FakeDisk();
      const { record, faults } = recordOn(disk);
      disk.fail(what, code, (count) => count === (what === 'opening' ? 1 : nth));
      let refused = 0;
      for (const atMs of numbers(12)) {
        record.add(entry(atMs));
        if (!(await record.flush())) refused += 1;
      }
      expect(refused).toBe(1);
      expect(times(disk)).toEqual(numbers(12));
      expect(faults.map((fault) => fault?.code ?? null)).toEqual(['record-not-kept', null]);
      expect(faults[0]!.got).toContain(code);
      await record.close();
    },
  );

  test('from then on, all is held, tried again by itself, and written when it works', async () => {
    const disk = new FakeDisk();
    const { record, faults } = recordOn(disk);
    disk.fail(what, code, (count) => count >= 1);
    for (const atMs of numbers(5)) record.add(entry(atMs));
    expect(await record.flush()).toBe(false);
    await vi.advanceTimersByTimeAsync(3 * RETRY_AFTER_MS);
    expect(disk.tried(what)).toBeGreaterThanOrEqual(3);
    expect(faults.every((fault) => fault?.code === 'record-not-kept')).toBe(true);
    disk.fail(what, code, () => false);
    await vi.advanceTimersByTimeAsync(RETRY_AFTER_MS);
    expect(times(disk)).toEqual(numbers(5));
    expect(faults.at(-1)).toBeNull();
    expect(record.dropped).toBe(0);
    await record.close();
  });
});

test.each([
  ['ENOSPC', 'disk is full'],
  ['EACCES', 'may not be written'],
  ['EROFS', 'read-only'],
  ['EEXIST', 'exists already'],
  ['EIO', 'Check the disk'],
])('%s is told in plain words', async (code, words) => {
  const disk = new FakeDisk();
  const { record, faults } = recordOn(disk);
  disk.fail('opening', code, () => true);
  record.add(entry(1));
  await record.flush();
  expect(faults[0]!.remedy).toContain(words);
  await record.close();
});

test('what a dead disk leaves in memory is bounded, the oldest given up and counted', async () => {
  const disk = new FakeDisk();
  const { record } = recordOn(disk);
  for (const atMs of numbers(MOST_HELD_ENTRIES + 3)) record.add(entry(atMs));
  expect(record.dropped).toBe(3);
  await record.close();
  const kept = times(disk);
  expect([kept.length, kept[0]]).toEqual([MOST_HELD_ENTRIES, 3]);
});

test('what is still held when a record is closed on a dead disk is counted as lost, and nothing hangs', async () => {
  const disk = new FakeDisk();
  const { record } = recordOn(disk);
  disk.fail('writing', 'EIO', () => true);
  for (const atMs of numbers(7)) record.add(entry(atMs));
  await record.close();
  expect(record.dropped).toBe(7);
  expect(vi.getTimerCount()).toBe(0);
});

test('on a real disk the folder is made, and a record that is there is never written over', async () => {
  vi.useRealTimers();
  const folder = await mkdtemp(join(tmpdir(), 'taptrue-record-'));
  try {
    const path = join(folder, 'jobs', 'one.ndjson');
    const first = new RecordFile(path, () => undefined);
    first.add(entry(1));
    await first.close();
    const faults: (Fault | null)[] = [];
    const second = new RecordFile(path, (fault) => faults.push(fault));
    second.add(entry(2));
    expect(await second.flush()).toBe(false);
    await second.close();
    expect(faults[0]!.got).toContain('EEXIST');
    expect(await readFile(path, 'utf8')).toBe(`${JSON.stringify(entry(1))}\n`);
  } finally {
    await rm(folder, { recursive: true });
  }
});
