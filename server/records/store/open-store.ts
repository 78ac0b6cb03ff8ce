import { dirname } from 'node:path';
import { makeFolder } from '../../files/make-folder.ts';
import { Database } from './database.ts';
import { migrate, NewerStore, STORE_VERSION, versionOf } from './migrations.ts';

/** The file all records of a bench are kept in, in the bench's folder. */
export const STORE_FILE = 'record.sqlite';

/** The log beside the file is taken into it after this many pages of 4 kB; the file then stays the small part. */
const CHECKPOINT_PAGES = 1000;

/**
 * Opens the store to write, made or brought to this version where needed. Commits are on the disk when they
 * return (FULL): a kill or a power cut loses nothing that was committed.
 * @throws with an SQLite `code`, or NewerStore.
 */
export function openStore(path: string): Database {
  makeFolder(dirname(path));
  const db = new Database(path);
  try {
    db.exec('PRAGMA journal_mode = WAL');
    db.exec('PRAGMA synchronous = FULL');
    db.exec(`PRAGMA wal_autocheckpoint = ${CHECKPOINT_PAGES}`);
    migrate(db);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

/**
 * Opens the store to read only, beside the one that writes.
 * @throws with an SQLite `code`, or `NO_RECORDS` where the file is empty or was never a store; or NewerStore.
 */
export function openStoreToRead(path: string): Database {
  const db = new Database(path, { readonly: true });
  try {
    const found = versionOf(db);
    if (found > STORE_VERSION) throw new NewerStore(found);
    if (found === 0)
      throw Object.assign(new Error('the file holds no records'), { code: 'NO_RECORDS' });
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}
