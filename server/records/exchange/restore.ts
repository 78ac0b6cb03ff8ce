import { existsSync, renameSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { makeFolder } from '../../files/make-folder.ts';
import { Database } from '../store/database.ts';
import { FolderInUse, FolderLock } from '../store/folder-lock.ts';
import { openStore, STORE_FILE } from '../store/open-store.ts';
import { codeIn } from '../store/store-faults.ts';
import { type BackedUp, failed, lookThrough, settle } from './back-up.ts';

/** SQLite keeps what is not yet in the file beside it, under these endings. */
const BESIDE = ['', '-wal', '-shm'] as const;

export type Restored =
  | (Extract<BackedUp, { ok: true }> & { keptAt: string | null })
  | Extract<BackedUp, { ok: false }>;

/**
 * Puts a backup in the place of a bench's records. The service must not run there. What was there is kept beside,
 * under a name with `stamp` in it.
 */
export function restore(file: string, folder: string, stamp: string): Restored {
  const looked = lookThrough(file);
  if (!looked.ok) return looked;
  let lock: FolderLock | null = null;
  try {
    makeFolder(folder);
    lock = FolderLock.take(folder);
    const path = join(folder, STORE_FILE);
    const incoming = `${path}.incoming`;
    rmSync(incoming, { force: true });
    copyWhole(file, incoming);
    settle(incoming);
    const keptAt = setAside(path, stamp);
    renameSync(incoming, path);
    // Brought to this version at once, and shown to open.
    openStore(path).close();
    return { ...looked, keptAt };
  } catch (error) {
    if (error instanceof FolderInUse) return failed(error.fault);
    return failed({
      code: 'not-restored',
      what: 'The backup could not be put in place.',
      got: `${codeIn(error)} in ${folder}`,
      remedy:
        'Make room or change the rights of the folder. What was there lies there or beside it.',
    });
  } finally {
    rmSync(join(folder, `${STORE_FILE}.incoming`), { force: true });
    lock?.release();
  }
}

/** What a service that was killed had written lies beside the file, not in it: a copy of the file alone lacks that. */
function copyWhole(file: string, to: string): void {
  const db = new Database(file, { readonly: true });
  try {
    db.run('VACUUM INTO ?', to);
  } finally {
    db.close();
  }
}

/** The old records under another name; null: there were none. */
function setAside(path: string, stamp: string): string | null {
  if (!existsSync(path)) return null;
  const aside = join(dirname(path), `${STORE_FILE}.before-${stamp}`);
  for (const ending of BESIDE) {
    if (existsSync(path + ending)) renameSync(path + ending, aside + ending);
  }
  return aside;
}
