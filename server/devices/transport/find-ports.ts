import { readdir, readFile, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import type { PortDescription } from '@taptrue/protocol';
import { SerialPort } from 'serialport';
import { type ListedPort, tellApart } from './port-identity.ts';

/** Where the facts come from, as arguments: the system of this machine, or a test's. */
export interface PortFinder {
  list(): Promise<ListedPort[]>;
  /** Links of one folder as [link, where it leads]; empty where there is no such folder. */
  links(folder: string): Promise<[link: string, path: string][]>;
  /** Names of the terminals the kernel writes to, such as `ttyS0`. */
  consoles(): Promise<string[]>;
  system: string;
}

const BY_ID = '/dev/serial/by-id';
const BY_PATH = '/dev/serial/by-path';

export const SYSTEM_PORTS: PortFinder = {
  list: () => SerialPort.list(),
  async links(folder) {
    const names = await readdir(folder).catch((): string[] => []);
    const links = await Promise.all(
      names.map(async (name): Promise<[string, string] | null> => {
        const link = join(folder, name);
        const path = await realpath(link).catch(() => null);
        return path === null ? null : [link, path];
      }),
    );
    return links.filter((link) => link !== null);
  },
  async consoles() {
    const text = await readFile('/sys/class/tty/console/active', 'utf8').catch(() => '');
    return text.split(/\s+/).filter(Boolean);
  },
  system: process.platform,
};

/**
 * Serial ports with an identity that outlives replugging, see `identityOf`. Never rejects: where the system's
 * list cannot be had (no udevadm), the links alone are listed. A kernel console is listed as such, because
 * boot and kernel messages appear on it and reading it disturbs them.
 */
export async function findPorts(finder: PortFinder = SYSTEM_PORTS): Promise<PortDescription[]> {
  const listed = await finder.list().catch((): ListedPort[] => []);
  const byId = firstLinkOf(await finder.links(BY_ID));
  const byPath = firstLinkOf(await finder.links(BY_PATH));
  const consoles = new Set(await finder.consoles());
  const ports = new Map<string, ListedPort>();
  for (const path of [...byId.keys(), ...byPath.keys()]) ports.set(path, { path });
  for (const port of listed) {
    const path = callOutPath(port.path, finder.system);
    ports.set(path, { ...port, path });
  }
  const identities = tellApart(
    [...ports.values()].map((port) => ({
      port,
      links: { byId: byId.get(port.path) ?? null, byPath: byPath.get(port.path) ?? null },
    })),
  );
  return [...ports.values()]
    .map((port) => ({
      path: port.path,
      ...(identities.get(port.path) ?? { identity: port.path, knownBy: 'port name' as const }),
      title: titleOf(port, consoles),
    }))
    .sort((one, other) => one.path.localeCompare(other.path, 'en', { numeric: true }));
}

function firstLinkOf(links: [link: string, path: string][]): Map<string, string> {
  const first = new Map<string, string>();
  for (const [link, path] of links.sort()) if (!first.has(path)) first.set(path, link);
  return first;
}

/** macOS lists the call-in name; some adapters work only by the call-out name (`/dev/cu.…`). */
function callOutPath(path: string, system: string): string {
  return system === 'darwin' ? path.replace('/dev/tty.', '/dev/cu.') : path;
}

function titleOf(port: ListedPort, consoles: ReadonlySet<string>): string {
  const name = port.path.split('/').at(-1) ?? port.path;
  if (consoles.has(name)) return 'console of this computer: not for a device';
  const described = port.friendlyName || port.manufacturer;
  return described ? `${described}` : 'serial port';
}
