import { createHash } from 'node:crypto';
import { homedir } from 'node:os';
import { join } from 'node:path';

/** Where this system keeps a user's application data. */
export function usualDataFolder(
  platform: NodeJS.Platform = process.platform,
  env: NodeJS.ProcessEnv = process.env,
): string {
  // An empty variable counts as not set (XDG base directory specification, and common sense elsewhere).
  if (platform === 'win32')
    return join(env.APPDATA || join(homedir(), 'AppData', 'Roaming'), 'Taptrue');
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'Taptrue');
  return join(env.XDG_DATA_HOME || join(homedir(), '.local', 'share'), 'taptrue');
}

/** Names of devices that Windows keeps for itself, with or without an extension. */
const RESERVED = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])$/;
/** Longer names are cut; a path has some 250 characters to spend. */
const LONGEST_NAME = 60;

/**
 * A bench name as a folder name: letters, digits and dashes only, so that no name can leave the folder.
 * Names that would otherwise fall together (other scripts, signs, long ones) are told apart by eight
 * digits of their hash: each bench has a memory of its own.
 */
export function folderNameOf(name: string): string {
  const asked = name.trim().toLowerCase();
  if (asked === '') return 'bench';
  const plain = asked
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, LONGEST_NAME)
    .replace(/-+$/, '');
  const isWhole = asked.replace(/[ _-]+/g, '-') === plain;
  if (isWhole && !RESERVED.test(plain)) return plain;
  const hash = createHash('sha256').update(asked.normalize('NFC')).digest('hex').slice(0, 8);
  return `${plain || 'bench'}-${hash}`;
}
