import { readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Checked } from '@taptrue/protocol';
import { makeFolder } from './make-folder.ts';

/** A folder a person may fill by hand: more than this is a mistake, and is not read. */
export const MOST_ON_SHELF = 500;

export interface Shelved<T> {
  /** File name without its ending. */
  id: string;
  value: T;
  changedAt: Date;
}

/**
 * A folder of JSON files of one schema, one a thing: readable with a text editor, copied by hand, each
 * written whole beside the old one and then put in its place. What cannot be read is counted and left alone.
 */
export class JsonShelf<T> {
  readonly #folder: string;
  readonly #check: (text: string) => Checked<T>;

  constructor(folder: string, check: (text: string) => Checked<T>) {
    this.#folder = folder;
    this.#check = check;
  }

  /** What can be read, last changed first, and the names of what cannot. */
  async list(): Promise<{ things: Shelved<T>[]; unread: { name: string; why: string }[] }> {
    const names = await readdir(this.#folder).catch(() => []);
    const things: Shelved<T>[] = [];
    const unread: { name: string; why: string }[] = [];
    for (const name of names.filter((one) => one.endsWith('.json')).slice(0, MOST_ON_SHELF)) {
      const path = join(this.#folder, name);
      try {
        const [text, { mtime }] = await Promise.all([readFile(path, 'utf8'), stat(path)]);
        const checked = this.#check(text);
        if (checked.ok)
          things.push({ id: name.slice(0, -5), value: checked.value, changedAt: mtime });
        else unread.push({ name, why: checked.why });
      } catch (error) {
        unread.push({ name, why: String(error) });
      }
    }
    things.sort((a, b) => b.changedAt.getTime() - a.changedAt.getTime());
    return { things, unread };
  }

  /** @param id letters, digits and dashes only; checked by the schema of the command that carries it. */
  async write(id: string, value: T): Promise<void> {
    makeFolder(this.#folder);
    const path = join(this.#folder, `${id}.json`);
    await writeFile(`${path}.new`, `${JSON.stringify(value, null, 2)}\n`);
    await rename(`${path}.new`, path);
  }

  /** False where it was not there. */
  async remove(id: string): Promise<boolean> {
    try {
      await rm(join(this.#folder, `${id}.json`));
      return true;
    } catch {
      return false;
    }
  }
}
