import { JobJournal } from '@taptrue/server/records/journal/job-journal.ts';
import type { ChunkHead } from '@taptrue/server/records/store/read-record.ts';
import { expect, test } from 'vitest';

/** A piece of one reading a second; with the indicator in it, or with the readout alone. */
const onlyReadings = (seq: number, atMs: number, shown = true): ChunkHead => ({
  seq,
  entries: 1,
  readings: 1,
  firstAtMs: atMs,
  lastAtMs: atMs,
  lowMm: shown ? 0.1 : null,
  highMm: shown ? 0.1 : null,
});
const command = (seq: number, atMs: number): ChunkHead => ({
  ...onlyReadings(seq, atMs, false),
  readings: 0,
});

/** The pieces that were told of these, where pieces of nothing but readings are passed over. */
async function told(heads: ChunkHead[]): Promise<number[]> {
  const asked: number[] = [];
  const reader = {
    do: async (task: string, ask: unknown) => {
      if (task === 'chunkHeads') return heads;
      asked.push((ask as { seq: number }).seq);
      return '';
    },
  };
  const room = new JobJournal('/nowhere', () => undefined);
  const entries = room.entriesOf('job', (only) => !only, reader as never);
  for await (const _entry of entries);
  return asked;
}

test('of an idle day only what a command may look back to is told before it', async () => {
  const day = Array.from({ length: 100 }, (_, index) => onlyReadings(index + 2, index * 1000));
  expect(await told([command(1, 0), ...day, command(102, 99_500)])).toEqual([1, 100, 101, 102]);
});

test('the last reading of an indicator that sends by its key is told, however old', async () => {
  const pieces = [
    command(1, 0),
    onlyReadings(2, 1000),
    onlyReadings(3, 50_000, false),
    onlyReadings(4, 99_000, false),
    command(5, 99_500),
  ];
  expect(await told(pieces)).toEqual([1, 2, 4, 5]);
});

test('nothing is told twice', async () => {
  const pieces = [onlyReadings(1, 0), command(2, 100), command(3, 200), onlyReadings(4, 300)];
  expect(await told(pieces)).toEqual([1, 2, 3]);
});
