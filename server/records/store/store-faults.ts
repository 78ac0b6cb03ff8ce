import type { Fault } from '@taptrue/protocol';

const CAUSES: Readonly<Record<string, string>> = {
  SQLITE_FULL: 'The disk is full: make room.',
  SQLITE_READONLY: 'It may not be written to: change its rights, or start with --data FOLDER.',
  SQLITE_CANTOPEN:
    'The folder cannot be made or opened: check its rights, or start with --data FOLDER on a disk that can be written to.',
  EACCES: 'The folder may not be written to: change its rights, or start with --data FOLDER.',
  EROFS: 'The folder is read-only: start with --data FOLDER on a disk that can be written to.',
  EEXIST: 'A file lies where the folder should be: move it away, or start with --data FOLDER.',
  ENOTDIR: 'A file lies where the folder should be: move it away, or start with --data FOLDER.',
  ENOSPC: 'The disk is full: make room.',
  SQLITE_BUSY: 'Another program holds the file: close it.',
  SQLITE_IOERR: 'The disk reports errors: check its cable, the network drive, or the disk itself.',
  SQLITE_CORRUPT:
    'The file is damaged. Move it aside and start again, or bring back the last backup with taptrue restore.',
  SQLITE_NOTADB:
    'The file is not a record of this program. Move it aside and start again, or bring back the last backup with taptrue restore.',
  Z_: 'A piece of it is damaged: taptrue verify names the job. Bring back the last backup with taptrue restore.',
  NO_RECORDS:
    'The file is empty or holds something else. Name the folder the service keeps its records in, or bring back the last backup with taptrue restore.',
  NEWER_STORE:
    'A newer Taptrue wrote it. Start that one, or start with --data FOLDER for a new record; the old one is left as it is.',
};

/** Why records cannot be written now. Measuring goes on; what comes meanwhile is held in memory. */
export function recordNotKept(path: string, error: unknown): Fault {
  const code = codeIn(error);
  const family = Object.keys(CAUSES).find((known) => code.startsWith(known));
  return {
    code: 'record-not-kept',
    what: 'The record cannot be written. Measuring goes on, and is held in memory only.',
    got: `${code} at ${path}`,
    remedy: `${(family && CAUSES[family]) || 'Check the disk.'} What is held is written as soon as that works.`,
  };
}

/** More came than can be held while the disk refused: what is lost is said, and stays said when the disk is back. */
export function recordHasGap(path: string, lost: number): Fault {
  return {
    code: 'record-has-gap',
    what: 'The disk refused for longer than entries can be held: the oldest of them are lost from the record.',
    got: `${lost} entries lost at ${path}`,
    remedy:
      'Begin a new job once the disk takes again, and sweep again: results of this job cannot be told again from the record.',
  };
}

/** Why records cannot be read or added to by a command. */
export function recordNotRead(path: string, error: unknown): Fault {
  const code = codeIn(error);
  const family = Object.keys(CAUSES).find((known) => code.startsWith(known));
  return {
    code: 'record-not-read',
    what: 'The record cannot be opened.',
    got: `${code} at ${path}`,
    remedy: (family && CAUSES[family]) || 'Check the disk.',
  };
}

/** SQLite or the unpacking of a piece refuses: the file, not the program, is at fault. */
export function isDamage(error: unknown): boolean {
  return /^(SQLITE|Z)_/.test(codeIn(error));
}

/** What an error of the disk or the store says of itself. */
export function codeIn(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  if (/^store version \d+/.test(error.message)) return `NEWER_STORE: ${error.message}`;
  return 'code' in error && error.code ? String(error.code) : error.message;
}
