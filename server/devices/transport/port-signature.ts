import { lstat, readdir } from 'node:fs/promises';

/** Folders that change when a serial device is plugged in or out. */
const FOLDERS = ['/sys/class/tty', '/dev/serial/by-id', '/dev/serial/by-path'] as const;
/** Virtual consoles, and the pseudo-terminals of programs: they come and go without a device. */
const NOT_DEVICES = /^(tty\d*|pty.*|ptmx|console)$/;

/**
 * A text that changes whenever a serial device comes or goes, in under a millisecond and without asking the
 * system for its whole list; null where there is no such way and the list itself must be asked for. The
 * number of each entry is part of it, so that another device under the same name is seen.
 */
export async function portSignature(system: string): Promise<string | null> {
  if (system !== 'linux') return null;
  const parts = await Promise.all(FOLDERS.map(entriesOf));
  return parts.flat().join('\n');
}

async function entriesOf(folder: string): Promise<string[]> {
  const names = (await readdir(folder).catch((): string[] => [])).filter(
    (name) => !NOT_DEVICES.test(name),
  );
  return Promise.all(
    names.sort().map(async (name) => {
      const entry = await lstat(`${folder}/${name}`).catch(() => null);
      return `${folder}/${name} ${entry?.ino ?? ''}`;
    }),
  );
}
