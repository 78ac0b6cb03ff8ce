import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { faultLine } from '@taptrue/protocol';
import { folderNameOf } from '../files/data-folder.ts';
import type { Database } from '../records/store/database.ts';
import { openStore, openStoreToRead, STORE_FILE } from '../records/store/open-store.ts';
import { isDamage, recordNotRead } from '../records/store/store-faults.ts';
import { Refusal } from './command.ts';
import { readSettingsOf } from './settings-of.ts';

/** Options by which every command about records finds the bench, as `serve` does. */
export const PLACE_OPTIONS = {
  data: { type: 'string' },
  name: { type: 'string' },
  demo: { type: 'boolean' },
} as const;

export const PLACE_HELP = `  --name NAME           of which bench (usual: bench)
  --demo                of the simulated bench
  --data FOLDER         where records are kept, if not in the usual place`;

export interface RecordPlace {
  /** Folder of the bench. */
  folder: string;
  /** The file of its records. */
  path: string;
}

/** Where the records of the bench lie that the options name; whether there are any is not looked at. */
export async function recordPlace(values: {
  data?: string | undefined;
  name?: string | undefined;
  demo?: boolean | undefined;
}): Promise<RecordPlace & { dataFolder: string }> {
  const { options, dataFolder } = await readSettingsOf([
    ...(values.data === undefined ? [] : [`--data=${values.data}`]),
    ...(values.name === undefined ? [] : [`--name=${values.name}`]),
    ...(values.demo ? ['--demo'] : []),
  ]);
  const isDemo = values.demo ?? (options.demo && values.name === undefined);
  const folder = join(dataFolder, folderNameOf(isDemo ? 'demo' : options.name));
  return { folder, path: join(folder, STORE_FILE), dataFolder };
}

/** Opens the records to read. @throws Refusal where there are none, with the benches there are. */
export async function openRecord(
  values: Parameters<typeof recordPlace>[0],
): Promise<{ db: Database; place: RecordPlace }> {
  const place = await recordPlace(values);
  if (!existsSync(place.path)) throw new Refusal(noRecord(place, place.dataFolder));
  return { db: openedAt(place.path, openStoreToRead), place };
}

/** Opens the records to add to; made where there are none. */
export async function openRecordToWrite(
  values: Parameters<typeof recordPlace>[0],
): Promise<{ db: Database; place: RecordPlace }> {
  const place = await recordPlace(values);
  return { db: openedAt(place.path, openStore), place };
}

function openedAt(path: string, open: (path: string) => Database): Database {
  try {
    return open(path);
  } catch (error) {
    throw new Refusal(faultLine(recordNotRead(path, error)));
  }
}

/** What a damaged or full disk says while records are read or written is told as a fault, not as a break of ours. */
export function asRefusal(error: unknown, { path }: RecordPlace): unknown {
  return isDamage(error) ? new Refusal(faultLine(recordNotRead(path, error))) : error;
}

function noRecord({ path }: RecordPlace, dataFolder: string): string {
  const benches = foldersIn(dataFolder).filter((name) =>
    existsSync(join(dataFolder, name, STORE_FILE)),
  );
  const way =
    benches.length === 0
      ? 'Give the folder the service keeps its records in with --data; its page names it under Devices.'
      : `Records are kept there of: ${benches.join(', ')}. Name one with --name${benches.includes('demo') ? ', the simulated one with --demo' : ''}.`;
  return `There is no record at ${path}. ${way}`;
}

function foldersIn(folder: string): string[] {
  try {
    return readdirSync(folder, { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => entry.name)
      .sort();
  } catch {
    return [];
  }
}
