import { open, readFile, rename } from 'node:fs/promises';
import { dirname } from 'node:path';
import {
  checkerOf,
  type Fault,
  JobCard,
  LinkConfig,
  NudgesSection,
  PlanQuestion,
  Setup,
} from '@taptrue/protocol';
import Type from 'typebox';
import { makeFolder } from '../files/make-folder.ts';

const closed = { additionalProperties: false } as const;

/** What a bench remembers from one day to the next. */
export const BenchMemory = Type.Object(
  {
    version: Type.Literal(1),
    setup: Setup,
    nudges: NudgesSection,
    plan: Type.Optional(PlanQuestion),
    card: Type.Optional(JobCard),
    links: Type.Object(
      {
        indicator: Type.Union([LinkConfig, Type.Null()]),
        readout: Type.Union([LinkConfig, Type.Null()]),
      },
      closed,
    ),
    tablets: Type.Array(
      Type.Object(
        {
          id: Type.String(),
          name: Type.String(),
          // Compared byte for byte with what a tablet shows: another length could not be.
          tokenSha256: Type.String({ pattern: '^[0-9a-f]{64}$' }),
        },
        closed,
      ),
    ),
  },
  closed,
);
export type BenchMemory = Type.Static<typeof BenchMemory>;

const memoryCheck = checkerOf(BenchMemory);

/** Reads the memory; null where there is none yet. A file that cannot be understood is a fault and is left alone. */
export async function readMemory(
  path: string,
): Promise<{ memory: BenchMemory | null; fault: Fault | null }> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT')
      return { memory: null, fault: null };
    return { memory: null, fault: memoryFault(path, String(error)) };
  }
  const checked = memoryCheck.parse(text);
  return checked.ok
    ? { memory: checked.value, fault: null }
    : { memory: null, fault: memoryFault(path, checked.why) };
}

/** Puts a file that could not be read aside, so that the next write does not destroy it. */
export async function keepUnread(path: string): Promise<void> {
  // What cannot be moved is not there, or is left where it is.
  await rename(path, `${path}.unread`).catch(() => undefined);
}

/** Writes it whole beside the old one and then puts it in its place, so that a crash leaves one or the other. */
export async function writeMemory(path: string, memory: BenchMemory): Promise<void> {
  makeFolder(dirname(path));
  const beside = `${path}.new`;
  const handle = await open(beside, 'w');
  try {
    await handle.writeFile(`${JSON.stringify(memory, null, 2)}\n`);
    // A rename may reach the disk before the bytes do; after a power cut the file would then be empty.
    await handle.datasync();
  } finally {
    await handle.close();
  }
  await rename(beside, path);
}

function memoryFault(path: string, why: string): Fault {
  return {
    code: 'memory-not-read',
    what: 'What this bench remembered (setup, nudges, devices) could not be read; it starts afresh.',
    got: `${why} in ${path}`,
    remedy:
      'Check the setup and do the nudges again. The old file is kept beside the new one with .unread behind its name.',
  };
}
