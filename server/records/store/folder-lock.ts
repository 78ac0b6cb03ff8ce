import { join } from 'node:path';
import type { Fault } from '@taptrue/protocol';
import { makeFolder } from '../../files/make-folder.ts';
import { codeOf, Database } from './database.ts';

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
   * @throws FolderInUse where another service holds it.
   */
  static take(folder: string): FolderLock | null {
    let db: Database | null = null;
    try {
      makeFolder(folder);
      db = new Database(join(folder, 'in-use.sqlite'));
      db.exec('PRAGMA busy_timeout = 0');
      db.exec('BEGIN EXCLUSIVE');
      return new FolderLock(db);
    } catch (error) {
      db?.close();
      if (codeOf(error).startsWith('SQLITE_BUSY')) throw new FolderInUse(folder);
      return null;
    }
  }

  release(): void {
    this.#db.close();
  }
}

/** Another service keeps its records there. */
export class FolderInUse extends Error {
  readonly fault: Fault;

  constructor(folder: string) {
    super(`another Taptrue uses ${folder}`);
    this.fault = {
      code: 'folder-in-use',
      what: 'Another Taptrue is running on this folder; two would mix their records.',
      got: folder,
      remedy:
        'Use the page of the one that runs, end it first, or start this one with another --name or --data FOLDER.',
    };
  }
}
