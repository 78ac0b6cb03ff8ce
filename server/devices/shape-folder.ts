import { lstatSync, readdirSync, readFileSync } from 'node:fs';
import { rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Fault, type LineShape, SHAPE_FILE_VERSION, type ShapeFile } from '@taptrue/protocol';
import { folderNameOf } from '../files/data-folder.ts';
import { makeFolder } from '../files/make-folder.ts';
import {
  LARGEST_SHAPE_FILE,
  readShapeFile,
  shapeFileFault,
} from './formats/files/read-shape-file.ts';
import { SHAPES } from './formats/shape-table.ts';

/** A shop meets some ten devices in its life; more files than this are not looked at. */
export const MOST_SHAPE_FILES = 200;

export interface OwnShapes {
  shapes: LineShape[];
  /** One for each file that cannot be used; none of them keeps the others out. */
  faults: { file: string; fault: Fault }[];
}

/** Where the shop's own line shapes are kept, one a file. */
export function shapesFolderOf(dataFolder: string): string {
  return join(dataFolder, 'shapes');
}

/**
 * Reads the shop's own line shapes; each runs its own samples. Only whole files of a bounded size are read, so
 * that a pipe or a dump with the name of a shape holds nothing up.
 */
export function readOwnShapes(folder: string): OwnShapes {
  const names = filesIn(folder);
  const own: OwnShapes = { shapes: [], faults: [] };
  const fileOf = new Map<string, string>(SHAPES.map(({ name }) => [name, 'one that ships']));
  for (const file of names.slice(0, MOST_SHAPE_FILES)) {
    const read = readOne(join(folder, file), file);
    if ('code' in read) {
      own.faults.push({ file, fault: read });
      continue;
    }
    const other = fileOf.get(read.name);
    if (other === undefined) {
      fileOf.set(read.name, file);
      own.shapes.push(read);
    } else {
      own.faults.push({ file, fault: shapeNameTaken(read.name, `${file}, and ${other}`) });
    }
  }
  if (names.length > MOST_SHAPE_FILES)
    own.faults.push({ file: '*.json', fault: tooMany(names.length) });
  return own;
}

/** Written whole beside the old one and then put in its place. */
export async function writeOwnShape(folder: string, shape: LineShape): Promise<void> {
  makeFolder(folder);
  // A name that Windows keeps for a device, such as con, gets another file; the shape keeps its name.
  const path = join(folder, `${folderNameOf(shape.name)}.json`);
  await writeFile(`${path}.new`, `${JSON.stringify(asShapeFile(shape), null, 2)}\n`);
  await rename(`${path}.new`, path);
}

/** Removes every file that holds the shape of this name, whatever the file is called. */
export async function removeOwnShape(folder: string, name: string): Promise<void> {
  for (const file of filesIn(folder).slice(0, MOST_SHAPE_FILES)) {
    const read = readOne(join(folder, file), file);
    if (!('code' in read) && read.name === name) await rm(join(folder, file));
  }
}

export function asShapeFile(shape: LineShape): ShapeFile {
  return { taptrueShape: SHAPE_FILE_VERSION, shape };
}

export function shapeNameTaken(name: string, got = name): Fault {
  return {
    code: 'shape-name-taken',
    what: `There is another line shape named "${name}".`,
    got,
    remedy: 'Give one of them another name; the name of a shape that ships cannot be used.',
  };
}

function filesIn(folder: string): string[] {
  try {
    return readdirSync(folder)
      .filter((name) => name.endsWith('.json'))
      .sort();
  } catch {
    return [];
  }
}

function readOne(path: string, file: string): LineShape | Fault {
  try {
    const about = lstatSync(path);
    if (!about.isFile()) return notRead(file, 'it is not a plain file');
    // A character takes up to four bytes.
    if (about.size > 4 * LARGEST_SHAPE_FILE) return notRead(file, `it holds ${about.size} bytes`);
    const read = readShapeFile(readFileSync(path, 'utf8').replace(/^\uFEFF/, ''));
    return read.ok ? read.shape : shapeFileFault(file, read.findings);
  } catch (error) {
    return notRead(file, error instanceof Error ? error.message : String(error));
  }
}

function notRead(file: string, why: string): Fault {
  return shapeFileFault(file, [{ line: 1, column: 1, field: '', why, got: '' }]);
}

function tooMany(count: number): Fault {
  return {
    code: 'shape-file-not-read',
    what: `Only the first ${MOST_SHAPE_FILES} line shape files were read.`,
    got: `${count} files`,
    remedy: 'Take those that are not needed out of the shapes folder.',
  };
}
