import { homedir } from 'node:os';
import { join } from 'node:path';

/** Where this system keeps a user's application data. */
export function usualDataFolder(
  platform: NodeJS.Platform = process.platform,
  env: NodeJS.ProcessEnv = process.env,
): string {
  if (platform === 'win32')
    return join(env.APPDATA ?? join(homedir(), 'AppData', 'Roaming'), 'Taptrue');
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'Taptrue');
  return join(env.XDG_DATA_HOME ?? join(homedir(), '.local', 'share'), 'taptrue');
}

/** A bench name as a folder name: letters, digits and dashes only, so that no name can leave the folder. */
export function folderNameOf(name: string): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return plain === '' ? 'bench' : plain;
}
