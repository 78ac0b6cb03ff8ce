import type { RecordEntry } from '@taptrue/protocol';
import {
  JobRecord,
  MOST_HELD_ENTRIES,
  MOST_IN_BATCH,
  RETRY_AFTER_MS,
  WRITE_EVERY_MS,
} from '@taptrue/server/records/store/job-record.ts';
import type { RecordBatch } from '@taptrue/server/records/store/record-batch.ts';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const entry = (atMs: number): RecordEntry => ({ entry: 'tick', atMs });
const numbers = (count: number) => Array.from({ length: count }, (_, index) => index);

/** A disk that keeps batches by their number; its nth append can fail, before or after it was kept. */
class FakeStore {
  readonly kept = new Map<number, RecordBatch>();
  tries = 0;
  fails: (nth: number) => 'before' | 'after' | null = () => null;

  append = async (batch: RecordBatch): Promise<void> => {
    this.tries += 1;
    const when = this.fails(this.tries);
    await Promise.resolve();
    if (when === 'before') throw Object.assign(new Error('full'), { code: 'SQLITE_FULL' });
    // A batch of a number that is kept already is passed over, as the real store does.
    if (!this.kept.has(batch.seq)) this.kept.set(batch.seq, batch);
    if (when === 'after') throw Object.assign(new Error('died'), { code: 'STORE_DIED' });
  };

  times(): number[] {
    return [...this.kept.values()].flatMap(({ lines }) =>
      lines
        .trimEnd()
        .split('\n')
        .map((line) => (JSON.parse(line) as RecordEntry).atMs),
    );
  }
}

function recordOn(store: FakeStore) {
  const troubles: unknown[] = [];
  const record = new JobRecord({
    job: 'job-1',
    append: store.append,
    onTrouble: (error) => troubles.push(error),
  });
  return { record, troubles };
}

describe('a record', () => {
  test('acknowledges what is on the disk, in the order it was added', async () => {
    const store = new FakeStore();
    const { record } = recordOn(store);
    for (const atMs of numbers(100)) record.add(entry(atMs));
    expect(store.times()).toEqual([]);
    expect(await record.flush()).toBe(true);
    expect(store.times()).toEqual(numbers(100));
  });

  test('is written by itself within the time that streamed readings may wait', async () => {
    const store = new FakeStore();
    const { record } = recordOn(store);
    record.add(entry(1));
    await vi.advanceTimersByTimeAsync(WRITE_EVERY_MS);
    expect(store.times()).toEqual([1]);
    await record.close();
  });

  test('acknowledges all of it where it is more than one commit takes', async () => {
    const store = new FakeStore();
    const { record } = recordOn(store);
    for (const atMs of numbers(2 * MOST_IN_BATCH + 1)) record.add(entry(atMs));
    expect(await record.flush()).toBe(true);
    expect(store.times()).toEqual(numbers(2 * MOST_IN_BATCH + 1));
    expect(store.kept.size).toBe(3);
  });

  test('flushed by several at once is written in order, each entry once', async () => {
    const store = new FakeStore();
    const { record } = recordOn(store);
    const flushed = numbers(20).map((atMs) => {
      record.add(entry(atMs));
      return record.flush();
    });
    expect(new Set(await Promise.all(flushed))).toEqual(new Set([true]));
    expect(store.times()).toEqual(numbers(20));
    expect(store.tries).toBeLessThanOrEqual(3);
  });

  test('keeps what is added while it is being closed, and takes nothing after it', async () => {
    const store = new FakeStore();
    const { record } = recordOn(store);
    record.add(entry(1));
    const closing = record.close();
    record.add(entry(2));
    await closing;
    record.add(entry(3));
    await vi.advanceTimersByTimeAsync(10_000);
    expect(store.times()).toEqual([1, 2]);
  });

  test('says of each piece what it holds: its times, and what the indicator showed', async () => {
    const store = new FakeStore();
    const { record } = recordOn(store);
    const reading = {
      sequence: 1,
      text: '',
      channel: null,
      unit: 'mm',
      decimals: 3,
      status: 'ok',
    } as const;
    for (const [atMs, valueMm] of [
      [10, 0.5],
      [20, -0.25],
      [30, null],
    ] as const) {
      record.add({
        entry: 'reading',
        atMs,
        link: 'indicator',
        reading: { ...reading, atMs, value: valueMm, valueMm },
      });
    }
    record.add({
      entry: 'reading',
      atMs: 40,
      link: 'readout',
      reading: { ...reading, atMs: 40, value: 99, valueMm: 99 },
    });
    await record.flush();
    expect(store.kept.get(1)).toMatchObject({
      entries: 4,
      readings: 4,
      firstAtMs: 10,
      lastAtMs: 40,
      lowMm: -0.25,
      highMm: 0.5,
    });
  });
});

describe.each(['before', 'after'] as const)('where the disk fails %s it kept a piece', (when) => {
  test.each(numbers(6).map((nth) => nth + 1))(
    'once, at append %d, nothing is lost or doubled and the trouble stands until it works',
    async (nth) => {
      const store = new FakeStore();
      const { record, troubles } = recordOn(store);
      store.fails = (count) => (count === nth ? when : null);
      let refused = 0;
      for (const atMs of numbers(12)) {
        record.add(entry(atMs));
        if (!(await record.flush())) refused += 1;
      }
      expect(refused).toBe(1);
      expect(store.times()).toEqual(numbers(12));
      expect(troubles.map((trouble) => trouble === null)).toEqual([false, true]);
      await record.close();
      expect(record.dropped).toBe(0);
    },
  );

  test.each(numbers(6).map((nth) => nth + 1))(
    'from append %d on, all is held, tried again by itself, and written when it works',
    async (nth) => {
      const store = new FakeStore();
      const { record, troubles } = recordOn(store);
      store.fails = (count) => (count >= nth ? when : null);
      for (const atMs of numbers(12)) {
        record.add(entry(atMs));
        await record.flush();
      }
      const tried = store.tries;
      await vi.advanceTimersByTimeAsync(3 * RETRY_AFTER_MS);
      expect(store.tries).toBeGreaterThanOrEqual(tried + 3);
      expect(troubles).not.toContain(null);
      store.fails = () => null;
      await vi.advanceTimersByTimeAsync(RETRY_AFTER_MS);
      expect(store.times()).toEqual(numbers(12));
      expect(troubles.at(-1)).toBeNull();
      await record.close();
      expect(record.dropped).toBe(0);
    },
  );
});

test('a disk that is away for longer than the memory holds loses the oldest but the first, and counts them', async () => {
  const store = new FakeStore();
  const { record } = recordOn(store);
  for (const atMs of numbers(MOST_HELD_ENTRIES + 7)) record.add(entry(atMs));
  expect(record.dropped).toBe(7);
  await record.close();
  expect(store.times().slice(0, 3)).toEqual([0, 8, 9]);
});

test('a disk that is dead when the record is closed: what it refused is counted', async () => {
  const store = new FakeStore();
  const { record } = recordOn(store);
  store.fails = () => 'before';
  for (const atMs of numbers(5)) record.add(entry(atMs));
  await record.close();
  expect(record.dropped).toBe(5);
});
