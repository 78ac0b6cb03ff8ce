import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync, statSync } from 'node:fs';
import type { Fault } from '@taptrue/protocol';
import { Database } from '../store/database.ts';
import { NewerStore, STORE_VERSION, versionOf } from '../store/migrations.ts';
import { openStoreToRead } from '../store/open-store.ts';
import { codeIn } from '../store/store-faults.ts';

/** A file of records, counted. */
export interface StoreCount {
  jobs: number;
  sweeps: number;
  entries: number;
  bytes: number;
}

export type BackedUp = { ok: true; count: StoreCount } | { ok: false; fault: Fault };

/**
 * Copies the records as they are at one moment into one file, while the service may go on writing. The copy is
 * made beside, looked through, and given its name only when it is whole and on the disk.
 */
export function backUp(path: string, file: string): BackedUp {
  if (existsSync(file)) return failed(fileThere(file));
  const beside = `${file}.unfinished`;
  try {
    rmSync(beside, { force: true });
    const db = openStoreToRead(path);
    try {
      db.run('VACUUM INTO ?', beside);
    } finally {
      db.close();
    }
    const looked = lookThrough(beside);
    if (!looked.ok) return looked;
    settle(beside);
    renameSync(beside, file);
    return looked;
  } catch (error) {
    return failed(notBackedUp(file, error));
  } finally {
    rmSync(beside, { force: true });
  }
}

/** Whether a file holds records of this program, whole. */
export function lookThrough(file: string): BackedUp {
  if (!existsSync(file)) return failed(notABackup(file, 'there is no such file'));
  let db: Database | null = null;
  try {
    db = new Database(file, { readonly: true });
    const version = versionOf(db);
    if (version > STORE_VERSION) throw new NewerStore(version);
    const check = String(db.get('PRAGMA integrity_check')?.integrity_check);
    if (check !== 'ok') return failed(notABackup(file, check));
    if (version === 0) return failed(notABackup(file, 'no records of this program'));
    const jobs = db.get(
      'SELECT count(*) AS jobs, sum(sweeps) AS sweeps, sum(entries) AS entries FROM job',
    );
    return {
      ok: true,
      count: {
        jobs: Number(jobs?.jobs ?? 0),
        sweeps: Number(jobs?.sweeps ?? 0),
        entries: Number(jobs?.entries ?? 0),
        bytes: statSync(file).size,
      },
    };
  } catch (error) {
    return failed(notABackup(file, codeIn(error)));
  } finally {
    db?.close();
  }
}

/** On the disk, not only on its way to it. */
export function settle(file: string): void {
  const handle = openSync(file, 'r+');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

export function failed(fault: Fault): { ok: false; fault: Fault } {
  return { ok: false, fault };
}

function fileThere(file: string): Fault {
  return {
    code: 'backup-not-made',
    what: 'A file of that name is there already, and a backup is never written over another.',
    got: file,
    remedy: 'Name another file, for example with the date in it.',
  };
}

function notBackedUp(file: string, error: unknown): Fault {
  return {
    code: 'backup-not-made',
    what: 'The backup could not be made; nothing was changed.',
    got: `${codeIn(error)} at ${file}`,
    remedy: 'Make room, or name a place you may write to.',
  };
}

function notABackup(file: string, got: string): Fault {
  return {
    code: 'backup-not-usable',
    what: 'The file is not a whole record of this program.',
    got: `${got} at ${file}`,
    remedy: 'Name a file made with taptrue backup by this version or an older one.',
  };
}
