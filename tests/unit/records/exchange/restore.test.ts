import { copyFileSync, existsSync } from 'node:fs';
import { join } from 'node:path';
import { backUp } from '@taptrue/server/records/exchange/back-up.ts';
import { restore } from '@taptrue/server/records/exchange/restore.ts';
import { FolderLock } from '@taptrue/server/records/store/folder-lock.ts';
import { openStoreToRead, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { expect, test } from 'vitest';
import { keepIn, newFolder, newStore, shortJob } from './a-job.ts';

/** Records as a killed service leaves them: all is in the log beside the file still. */
function killedService(): { file: string; entries: number } {
  const from = newFolder();
  const { key, entries } = shortJob();
  const db = newStore(from);
  db.exec('PRAGMA wal_autocheckpoint = 0');
  keepIn(db, key, entries);
  const there = join(newFolder(), STORE_FILE);
  for (const ending of ['', '-wal']) copyFileSync(join(from, STORE_FILE + ending), there + ending);
  return { file: there, entries: entries.length };
}

test('what lies in the log beside a file of records is brought back with it, and counted as it is there', () => {
  const { file, entries } = killedService();
  const folder = newFolder();
  const done = restore(file, folder, 'stamp');
  expect(done).toMatchObject({ ok: true, count: { jobs: 1, entries }, keptAt: null });
  const db = openStoreToRead(join(folder, STORE_FILE));
  expect(Number(db.get('SELECT sum(entries) AS n FROM job')?.n)).toBe(entries);
  db.close();
});

test('the records that were set aside are brought back as they were', () => {
  const { file, entries } = killedService();
  const folder = join(file, '..');
  const empty = join(newFolder(), 'empty.sqlite');
  const none = newFolder();
  newStore(none);
  expect(backUp(join(none, STORE_FILE), empty)).toMatchObject({ ok: true });
  const first = restore(empty, folder, 'first');
  expect(first).toMatchObject({ ok: true, count: { jobs: 0 } });
  const aside = first.ok ? first.keptAt! : '';
  expect(existsSync(aside)).toBe(true);
  expect(restore(aside, folder, 'second')).toMatchObject({ ok: true, count: { entries } });
  const db = openStoreToRead(join(folder, STORE_FILE));
  expect(Number(db.get('SELECT sum(entries) AS n FROM job')?.n)).toBe(entries);
  db.close();
});

test('nothing is touched where a service runs on the folder', () => {
  const { file } = killedService();
  const folder = newFolder();
  newStore(folder);
  const lock = FolderLock.take(folder);
  expect(restore(file, folder, 'stamp')).toMatchObject({
    ok: false,
    fault: { code: 'folder-in-use' },
  });
  lock?.release();
});
