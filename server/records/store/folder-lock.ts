import { join } from 'node:path';
import type { Fault } from '@taptrue/protocol';
import { makeFolder } from '../../files/make-folder.ts';
import { codeOf, Database } from './database.ts';

const LOCK_FILE = 'in-use.sqlite';

/**
 * One service a bench folder. The lock is SQLite's own on a small file beside the record: the system lets go of
 * it when the process ends, however it ends, and on every system alike.
 */
export class FolderLock {
  readonly #db: Database;

  private constructor(db: Database) {
    this.#db = db;
  }

  /**
   * Null where the folder cannot be written to at all: then nothing of it can be harmed.
   * @throws FolderInUse where another service holds it, and where it cannot be proved that none does.
   */
  static take(folder: string): FolderLock | null {
    let db: Database | null = null;
    try {
      makeFolder(folder);
      db = new Database(join(folder, LOCK_FILE));
      db.exec('PRAGMA busy_timeout = 0');
      db.exec('BEGIN EXCLUSIVE');
      return new FolderLock(db);
    } catch (error) {
      db?.close();
      const code = codeOf(error);
      if (NOT_WRITABLE.some((known) => code.startsWith(known))) return null;
      throw new FolderInUse(folder, isHeld(code) ? null : code || String(error));
    }
  }

  release(): void {
    this.#db.close();
  }
}

/** The system or SQLite cannot write there: no rights, no room, no such place, a disk that is read only. */
const NOT_WRITABLE = [
  'EACCES',
  'EPERM',
  'EROFS',
  'ENOSPC',
  'ENOTDIR',
  'EEXIST',
  'ENOENT',
  'SQLITE_READONLY',
  'SQLITE_CANTOPEN',
  'SQLITE_FULL',
];

function isHeld(code: string): boolean {
  return code.startsWith('SQLITE_BUSY') || code.startsWith('SQLITE_LOCKED');
}

/** Another service keeps its records there, or its lock cannot be read: then one may. */
export class FolderInUse extends Error {
  readonly fault: Fault;

  /** @param unread why the lock could not be read; null: it is held. */
  constructor(folder: string, unread: string | null = null) {
    super(unread === null ? `another Taptrue uses ${folder}` : `the lock of ${folder}: ${unread}`);
    if (unread !== null) {
      this.fault = {
        code: 'folder-lock-not-read',
        what: 'Whether another Taptrue is running on this folder cannot be told: its lock is damaged.',
        got: `${join(folder, LOCK_FILE)}: ${unread}`,
        remedy:
          'End every Taptrue on this computer, delete that one file (it holds no record), and start again.',
      };
      return;
    }
    this.fault = {
      code: 'folder-in-use',
      what: 'Another Taptrue is running on this folder; two would mix their records.',
      got: folder,
      remedy:
        'Use the page of the one that runs, end it first, or start this one with another --name or --data FOLDER.',
    };
  }
}
