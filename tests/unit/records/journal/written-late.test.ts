import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { RecordEntry } from '@taptrue/protocol';
import { importRecordings } from '@taptrue/server/records/exchange/import-recordings.ts';
import { verifyStore } from '@taptrue/server/records/exchange/verify-store.ts';
import { JobJournal } from '@taptrue/server/records/journal/job-journal.ts';
import { emptyBin } from '@taptrue/server/records/store/bin.ts';
import { openStore, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { expect, test } from 'vitest';
import { AtTheBench } from '../../bench/at-the-bench.ts';
import { newFolder, recordingOf } from '../exchange/a-job.ts';

const note = (number: number): Extract<RecordEntry, { entry: 'note' }> => ({
  entry: 'note',
  atMs: 0,
  number,
  sweep: null,
  wallClock: '2026-11-25T10:00:00.000Z',
  by: 'Ann',
  text: `note ${number}`,
});

test('a note on a job that was emptied from the bin and taken in again is kept behind what was taken in', async () => {
  const folder = newFolder();
  const path = join(folder, STORE_FILE);
  const at = new AtTheBench({ rises: 'toward', stationsMm: [0, 127] });
  at.sweepKeyed(['0', '0.0020']);
  at.sweepKeyed(['0', '0.0010']);
  at.must({ kind: 'new job' });
  const room = new JobJournal(folder, () => undefined);
  const [first] = at.recorded;
  if (first?.entry !== 'opened') throw new Error('no beginning');
  const { key } = first.start;
  // Each in a piece of its own, as at the bench; taken in again they are one.
  for (const entry of at.recorded) {
    room.add(entry);
    if (entry.entry !== 'closed') await room.flush();
  }
  await room.flush();
  const db = openStore(path);
  const file = join(folder, 'job.jsonl');
  writeFileSync(file, recordingOf(db, key));
  db.run('UPDATE job SET binned_at = ? WHERE key = ?', '2026-11-25T10:00:00.000Z', key);
  expect(emptyBin(db, '2026-11-25T10:00:00.000Z')).toEqual({ emptied: 1, signed: 0 });
  expect(importRecordings(db, file)).toMatchObject([{ outcome: 'taken in' }]);
  expect(await room.addTo(key, note(1))).toBe('kept');
  await room.close();
  expect(recordingOf(db, key)).toContain('note 1');
  expect([...verifyStore(db, key)].flatMap(({ wrong }) => wrong)).toEqual([]);
  db.close();
});
