import { closeSync, openSync, rmSync, statSync, writeSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { makeFolder } from '../files/make-folder.ts';
import { Refusal } from './command.ts';

/** The file in a folder, or the file itself where the path names one. */
export function inFolder(out: string, name: string, makeFolder = false): string {
  if (makeFolder || out === '.' || isFolder(out)) return out === '.' ? name : join(out, name);
  return out;
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}

const REASONS: Readonly<Record<string, string>> = {
  EEXIST: 'is there already and is not written over. Name another',
  EACCES: 'may not be written. Name a place you may write to',
  EPERM: 'may not be written. Name a place you may write to',
  EROFS: 'lies on a disk that can only be read. Name another',
  ENOSPC: 'could not be written whole: the disk is full. Make room, or name another disk',
  ENOTDIR: 'lies behind something that is no folder. Name another',
  ENAMETOOLONG: 'has too long a name. Name a shorter one',
};

/** Writes a file that was not there before; what could not be written whole is taken away again. */
export function writeNew(path: string, texts: Iterable<string>): void {
  let file: number | null = null;
  try {
    makeFolder(dirname(path));
    file = openSync(path, 'wx');
    for (const text of texts) writeWhole(file, Buffer.from(text, 'utf8'));
    closeSync(file);
  } catch (error) {
    if (file !== null) {
      closeSync(file);
      rmSync(path, { force: true });
    }
    const code = (error as NodeJS.ErrnoException).code;
    // What the texts come out of has codes of its own, and is not the file that is written.
    if (code === undefined || !/^E[A-Z]+$/.test(code)) throw error;
    throw new Refusal(
      `${path} ${REASONS[code] ?? `could not be written (${code}). Name another`}.`,
    );
  }
}

function writeWhole(file: number, bytes: Buffer): void {
  for (let at = 0; at < bytes.length; ) at += writeSync(file, bytes, at, bytes.length - at);
}
