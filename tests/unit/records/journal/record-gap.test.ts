import type { Fault, RecordEntry } from '@taptrue/protocol';
import { JobJournal } from '@taptrue/server/records/journal/job-journal.ts';
import { MOST_HELD_ENTRIES } from '@taptrue/server/records/store/job-record.ts';
import { expect, test } from 'vitest';
import { AtTheBench } from '../../bench/at-the-bench.ts';
import { newFolder } from '../exchange/a-job.ts';

test('what was lost because the disk refused for too long is told when it begins and when the disk is back', async () => {
  const faults: (Fault | null)[] = [];
  const room = new JobJournal(newFolder(), (fault) => faults.push(fault));
  let refuses = true;
  Object.assign(room.write, {
    do: async () => {
      if (refuses) throw Object.assign(new Error('full'), { code: 'SQLITE_FULL' });
    },
  });
  const told = () => faults.splice(0).map((fault) => fault && [fault.code, fault.got]);
  const opened = new AtTheBench().recorded[0]!;
  const tick: RecordEntry = { entry: 'tick', atMs: 2000 };
  room.add(opened);
  expect(await room.flush()).toBe(false);
  expect(told()).toEqual([['record-not-kept', expect.any(String)]]);
  const lost = 7;
  for (let count = 0; count < MOST_HELD_ENTRIES + lost; count += 1) room.add(tick);
  expect(room.dropped).toBe(lost);
  for (const faultsTold of [2, 1]) {
    expect(await room.flush()).toBe(false);
    expect(told()).toHaveLength(faultsTold);
  }
  room.add(tick);
  refuses = false;
  expect(await room.flush()).toBe(true);
  expect(told()).toEqual([
    null,
    ['record-has-gap', expect.stringContaining(`${lost + 1} entries lost`)],
  ]);
  await room.close();
});
