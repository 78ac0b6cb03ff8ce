import { type ChildProcess, fork } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Device } from './device.ts';
import type { Answer, Order } from './pty-child.ts';

/** Why there is no pseudo-terminal here, or null where there is one. */
export function noPtyBecause(): string | null {
  if (process.platform === 'win32') return 'Windows has no pseudo-terminals that are serial ports';
  return existsSync('/dev/ptmx') ? null : 'this system has no /dev/ptmx';
}

/** A device behind a real pseudo-terminal, its writing end in a process of its own. */
export async function ptyDevice(): Promise<Device> {
  const folder = mkdtempSync(join(tmpdir(), 'taptrue-pty-'));
  const path = join(folder, 'port');
  const child = fork(fileURLToPath(new URL('./pty-child.ts', import.meta.url)), [path], {
    execArgv: ['--import', 'tsx'],
  });
  let heard = '';
  child.on('message', (message) => {
    const answer = message as Answer;
    if (answer.answer === 'heard') heard += answer.latin1;
  });
  const order = (what: Order) => child.send(what);
  const obey = async (what: Order, answer: Answer['answer']) => {
    const answered = answerOf(child, answer);
    order(what);
    await answered;
  };

  await obey({ order: 'plug' }, 'plugged');
  return {
    source: { kind: 'serial', path, settings: null },
    pipe: null,
    send: (text) => order({ order: 'send', latin1: text }),
    unplug: () => obey({ order: 'unplug' }, 'unplugged'),
    async replug() {
      heard = '';
      await obey({ order: 'plug' }, 'plugged');
    },
    heard: () => heard,
    async stop() {
      const exited = new Promise((resolve) => child.once('exit', resolve));
      child.disconnect();
      await exited;
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function answerOf(child: ChildProcess, wanted: Answer['answer']): Promise<void> {
  return new Promise((resolve, reject) => {
    const onMessage = (message: unknown) => {
      if ((message as Answer).answer !== wanted) return;
      child.off('message', onMessage);
      child.off('exit', onExit);
      resolve();
    };
    const onExit = (code: number | null) =>
      reject(new Error(`the process of the pseudo-terminal ended with ${code}`));
    child.on('message', onMessage);
    child.once('exit', onExit);
  });
}
