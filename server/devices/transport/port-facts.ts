import { readdir, readFile, readlink, realpath, stat } from 'node:fs/promises';
import { userInfo } from 'node:os';
import { within } from './within.ts';

/** What is known about a port that would not open; null where it cannot be known here. */
export interface PortFacts {
  /** Group that the device file belongs to; absent where it belongs to no group that helps. */
  group: string | null;
  user: string | null;
  /** The user's groups list that group, but this program was started before it did. */
  joinedSinceLogin: boolean;
  /** Name of the program that holds the port open, as far as this user may see it. */
  heldBy: string | null;
}

export const NO_FACTS: PortFacts = {
  group: null,
  user: null,
  joinedSinceLogin: false,
  heldBy: null,
};

/** Where the facts come from: this machine, or a test's. */
export interface FactSource {
  system: string;
  fileGroup(path: string): Promise<number | null>;
  groupFile(): Promise<string>;
  ownGroups(): readonly number[];
  userName(): string | null;
  holder(path: string): Promise<string | null>;
}

/** A fault that waits for its reason longer than this is told without it; on a busy machine the look takes half a second. */
const FACTS_WITHIN_MS = 1500;
/** Processes looked at side by side. */
const AT_ONCE = 32;
/** Looks no farther: a machine beside a mill runs a few hundred. */
const MOST_PROCESSES = 4096;
/** Longest name shown; the kernel cuts them at 15. */
const LONGEST_NAME = 40;

export const SYSTEM_FACTS: FactSource = {
  system: process.platform,
  fileGroup: (path) =>
    stat(path)
      .then(({ gid }) => gid)
      .catch(() => null),
  groupFile: () => readFile('/etc/group', 'utf8').catch(() => ''),
  ownGroups: () => process.getgroups?.() ?? [],
  userName: () => {
    try {
      return userInfo().username;
    } catch {
      return null;
    }
  },
  holder: holderOnLinux,
};

/** Who may open the port and who has it open; only Linux says either without asking for rights. Never rejects. */
export async function portFacts(
  path: string,
  source: FactSource = SYSTEM_FACTS,
): Promise<PortFacts> {
  if (source.system !== 'linux') return NO_FACTS;
  let facts = NO_FACTS;
  const gather = async () => {
    const [gid, groups] = await Promise.all([source.fileGroup(path), source.groupFile()]);
    facts = { ...groupFacts(gid, groups, source), heldBy: null };
    facts = { ...facts, heldBy: await source.holder(path) };
  };
  await within(
    gather().catch(() => undefined),
    FACTS_WITHIN_MS,
  );
  return facts;
}

function groupFacts(
  gid: number | null,
  groupFile: string,
  source: FactSource,
): Omit<PortFacts, 'heldBy'> {
  const user = source.userName();
  const row = groupFile
    .split('\n')
    .map((line) => line.split(':'))
    .find((parts) => parts[2] === String(gid));
  // A port of the group root is opened to no one by joining that group; it needs another owner.
  if (gid === null || gid === 0 || row === undefined) {
    return { group: null, user, joinedSinceLogin: false };
  }
  const members = (row[3] ?? '').split(',');
  return {
    group: row[0] ?? null,
    user,
    joinedSinceLogin: user !== null && members.includes(user) && !source.ownGroups().includes(gid),
  };
}

/** Looks through the open files of the processes whose files this user may see. */
async function holderOnLinux(path: string): Promise<string | null> {
  const wanted = await realpath(path).catch(() => path);
  const processes = (await readdir('/proc').catch((): string[] => []))
    .filter((name) => /^\d+$/.test(name))
    .slice(0, MOST_PROCESSES);
  for (let from = 0; from < processes.length; from += AT_ONCE) {
    const some = processes.slice(from, from + AT_ONCE);
    const holds = await Promise.all(some.map((id) => holdsOpen(id, wanted)));
    const holder = some[holds.indexOf(true)];
    if (holder !== undefined) return nameOf(holder);
  }
  return null;
}

async function holdsOpen(id: string, wanted: string): Promise<boolean> {
  const folder = `/proc/${id}/fd`;
  const files = await readdir(folder).catch((): string[] => []);
  const links = await Promise.all(
    files.map((file) => readlink(`${folder}/${file}`).catch(() => null)),
  );
  return links.includes(wanted);
}

async function nameOf(id: string): Promise<string> {
  if (id === String(process.pid)) return 'this program itself';
  const name = await readFile(`/proc/${id}/comm`, 'utf8').catch(() => '');
  return name.trim().slice(0, LONGEST_NAME) || 'a program without a name';
}
