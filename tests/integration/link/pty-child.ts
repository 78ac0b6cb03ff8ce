import { closeSync, constants, openSync, rmSync, symlinkSync } from 'node:fs';
import type { ReadStream } from 'node:tty';
import * as pty from '@lydell/node-pty';

// The writing end of a pseudo-terminal in a process of its own: with both ends in one process a large
// transfer was measured to hang. Talks to the test by messages; the link at argv[2] leads to the port.

export type Order = { order: 'plug' } | { order: 'unplug' } | { order: 'send'; latin1: string };
export type Answer =
  | { answer: 'plugged' }
  | { answer: 'unplugged' }
  | { answer: 'heard'; latin1: string };

interface OpenPty {
  master: ReadStream;
  slave: ReadStream;
  ptsName: string;
}
/** Exported by the package and missing from its types. */
const { open } = pty as unknown as { open(options: { encoding: null }): OpenPty };

const link = process.argv[2]!;
let master: ReadStream | null = null;
let slaveDescriptor = -1;

const tell = (answer: Answer) => process.send?.(answer);

function plug(): void {
  const opened = open({ encoding: null });
  // Raw, or the terminal would echo and turn CR into LF before the service sets its own mode.
  opened.slave.setRawMode(true);
  // Own descriptor: the package reads its slave itself and would steal lines.
  slaveDescriptor = openSync(opened.ptsName, constants.O_RDWR | constants.O_NOCTTY);
  opened.slave.destroy();
  master = opened.master;
  master.on('error', () => undefined);
  master.on('data', (chunk: Buffer) => tell({ answer: 'heard', latin1: chunk.toString('latin1') }));
  symlinkSync(opened.ptsName, link);
  tell({ answer: 'plugged' });
}

function unplug(): void {
  rmSync(link, { force: true });
  const going = master;
  master = null;
  if (slaveDescriptor >= 0) closeSync(slaveDescriptor);
  slaveDescriptor = -1;
  if (going === null) {
    tell({ answer: 'unplugged' });
    return;
  }
  going.once('close', () => tell({ answer: 'unplugged' }));
  going.destroy();
}

process.on('message', (message) => {
  const order = message as Order;
  if (order.order === 'plug') plug();
  else if (order.order === 'unplug') unplug();
  else
    (master as unknown as NodeJS.WritableStream | null)?.write(Buffer.from(order.latin1, 'latin1'));
});
process.on('disconnect', () => process.exit(0));
