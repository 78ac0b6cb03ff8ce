import { lstatSync, mkdirSync, rmSync, symlinkSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import type { SimulatedDevice } from './device.ts';

/** A shell says its terminal's name and turns line editing off well within this. */
const READY_WITHIN_MS = 5_000;

/** A pseudo-terminal cannot be had, on this system or under that name; the message says why and what to do instead. */
export class NoPseudoTerminal extends Error {
  override name = 'NoPseudoTerminal';
}

export interface PtyPort {
  /** What another program opens in place of a serial port. */
  readonly path: string;
  /** Frames that nobody fetched: the system's buffer was full and they were dropped, as on a real port. */
  readonly overrunFrames: number;
  write(bytes: Uint8Array): void;
  onBytes(hear: (bytes: Uint8Array) => void): void;
  /** Takes the port away, as pulling the plug does. Resolves once it is gone. */
  close(): Promise<void>;
}

type Terminal = import('@lydell/node-pty').IPty;
type PtyModule = typeof import('@lydell/node-pty');

async function loadPty(): Promise<PtyModule> {
  if (process.platform === 'win32') {
    throw new NoPseudoTerminal(
      'Windows has no pseudo-terminals that a program can open as a port. Use the built-in demo (npm start), a pair of virtual serial ports, or run this on Linux or macOS.',
    );
  }
  try {
    const loaded: PtyModule & { default?: PtyModule } = await import('@lydell/node-pty');
    return loaded.default ?? loaded;
  } catch (error) {
    const got = error instanceof Error ? error.message : String(error);
    throw new NoPseudoTerminal(
      `The optional package @lydell/node-pty could not be loaded (${got}), so there is no pseudo-terminal. Run npm ci without --omit=optional, or use the built-in demo (npm start).`,
    );
  }
}

/** The descriptor of our end. The package has it on every Unix system but does not declare it. */
function descriptorOf(terminal: Terminal): number {
  const fd: unknown = 'fd' in terminal ? terminal.fd : undefined;
  if (typeof fd === 'number') return fd;
  terminal.kill();
  throw new NoPseudoTerminal('The pseudo-terminal has no descriptor to write to on this system.');
}

function pathOf(terminal: Terminal): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    const timer = setTimeout(() => {
      terminal.kill();
      reject(new NoPseudoTerminal(`The pseudo-terminal did not say its name; got: "${said}".`));
    }, READY_WITHIN_MS);
    const listening = terminal.onData((text) => {
      said += text;
      const path = /(\/dev\/\S+)[\r\n]/.exec(said)?.[1];
      if (path === undefined) return;
      clearTimeout(timer);
      listening.dispose();
      resolve(path);
    });
  });
}

/** A link of an earlier run is put anew; a file or folder of that name is somebody's and stays. */
function refuseToReplace(link: string): void {
  const there = lstatSync(link, { throwIfNoEntry: false });
  if (!there || there.isSymbolicLink()) return;
  const what = there.isDirectory() ? 'a folder' : 'a file';
  throw new NoPseudoTerminal(`${link} is ${what} already and stays as it is. Give another --link.`);
}

/**
 * A pseudo-terminal whose other end any program can open as a port; with `link`, under that name too, which
 * stays the same when the port is taken away and made again.
 *
 * A shell that never reads holds the other end open, so that the line keeps its settings while nobody
 * listens and no line is stolen. Our end is written to without waiting: the package's own write stands
 * still for ever once 18 kB lie unread.
 */
export async function openPty(link: string | null = null): Promise<PtyPort> {
  if (link !== null) refuseToReplace(link);
  const pty = await loadPty();
  const terminal = pty.spawn('sh', ['-c', 'stty raw -echo; tty; exec sleep 2147483'], {
    // Latin-1: bytes above 127 must come through as they are; the package's type asks for a name.
    encoding: 'latin1',
  });
  const descriptor = descriptorOf(terminal);
  const path = await pathOf(terminal);
  if (link !== null) {
    mkdirSync(dirname(link), { recursive: true });
    rmSync(link, { force: true });
    symlinkSync(path, link);
  }
  let overrunFrames = 0;
  let open = true;
  const gone = new Promise<void>((resolve) => {
    terminal.onExit(() => {
      open = false;
      resolve();
    });
  });
  return {
    path: link ?? path,
    get overrunFrames() {
      return overrunFrames;
    },
    write(bytes) {
      if (!open) return;
      try {
        if (writeSync(descriptor, bytes) < bytes.length) overrunFrames += 1;
      } catch {
        // EAGAIN: nobody fetches. EIO: the other end is being closed. Either way the frame is lost.
        overrunFrames += 1;
      }
    },
    onBytes(hear) {
      terminal.onData((text) => hear(Buffer.from(text, 'latin1')));
    },
    async close() {
      open = false;
      if (link !== null) rmSync(link, { force: true });
      terminal.kill();
      await gone;
    },
  };
}

/** Puts a device on a port; the device is attached for as long as the port is there. */
export function onPty(device: SimulatedDevice, port: PtyPort): void {
  port.onBytes((bytes) => device.hear(bytes));
  device.attach(
    (chunk) => port.write(chunk),
    () => void port.close(),
  );
}
