import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { FolderInUse, FolderLock } from '@taptrue/server/records/store/folder-lock.ts';
import { describe, expect, it } from 'vitest';
import { newFolder } from '../exchange/a-job.ts';

function taken(folder: string): unknown {
  try {
    FolderLock.take(folder)?.release();
    return 'taken';
  } catch (error) {
    return error instanceof FolderInUse ? error.fault.code : error;
  }
}

describe('one service a folder', () => {
  it('a free folder is taken, and free again once let go', () => {
    const folder = newFolder();
    expect(taken(folder)).toBe('taken');
    expect(taken(folder)).toBe('taken');
  });

  it('a folder that is held is refused', () => {
    const folder = newFolder();
    const lock = FolderLock.take(folder);
    expect(taken(folder)).toBe('folder-in-use');
    lock?.release();
    expect(taken(folder)).toBe('taken');
  });

  it.each([
    ['text', Buffer.from('this is no lock, and long enough to be looked at '.repeat(40))],
    ['noise', Buffer.alloc(4096, 0xa5)],
    [
      'a header that lies',
      Buffer.concat([Buffer.from('SQLite format 3\0'), Buffer.alloc(4080, 7)]),
    ],
  ])('a lock that is %s frees nothing', (_what, bytes) => {
    const folder = newFolder();
    writeFileSync(join(folder, 'in-use.sqlite'), bytes);
    expect(taken(folder)).toBe('folder-lock-not-read');
  });

  it('a place that cannot be written to holds nothing to be harmed', () => {
    const file = join(newFolder(), 'a-file');
    writeFileSync(file, '');
    expect(FolderLock.take(join(file, 'below'))).toBeNull();
  });
});
