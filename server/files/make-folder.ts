import { existsSync, mkdirSync } from 'node:fs';
import { dirname } from 'node:path';

/** What is kept there is the business of nobody else who uses this computer; Windows goes by the profile's rights. */
const OWNER_ONLY = 0o700;

/**
 * Makes a folder and those above it that are missing. Step by step: asked for all at once, Node 20 never
 * comes back where the system refuses a folder with "no such file" though the one above it is there, as below
 * /proc or on a mount that is gone.
 * @throws what the system says.
 */
export function makeFolder(path: string): void {
  if (existsSync(path)) return;
  const above = dirname(path);
  if (above !== path) makeFolder(above);
  try {
    mkdirSync(path, { mode: OWNER_ONLY });
  } catch (error) {
    // Another may have made it meanwhile.
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}
