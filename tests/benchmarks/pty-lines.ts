import { fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { WriteOrder, WriterAnswer, WrittenLine } from './pty-writer.ts';

export interface LineWriter {
  /** What is opened in place of a serial port. */
  path: string;
  /** Resolves with what was written when, once all of it is written. */
  write(order: WriteOrder): Promise<WrittenLine[]>;
  stop(): Promise<void>;
}

/** A pseudo-terminal written to by a process of its own; or why there is none here. */
export async function startWriter(): Promise<LineWriter | { why: string }> {
  const child = fork(fileURLToPath(new URL('./pty-writer.ts', import.meta.url)), {
    execArgv: ['--import', 'tsx'],
  });
  const exited = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const answer = () =>
    new Promise<WriterAnswer>((resolve, reject) => {
      child.once('message', (message) => resolve(message as WriterAnswer));
      child.once('error', reject);
      void exited.then(() => reject(new Error('the writing process ended')));
    });
  const opened = await answer();
  if (opened.answer !== 'open') {
    return { why: opened.answer === 'no pty' ? opened.why : 'the writer was not understood' };
  }
  return {
    path: opened.path,
    async write(order) {
      const written = answer();
      child.send(order);
      const told = await written;
      if (told.answer !== 'written') throw new Error('the writer was not understood');
      return told.lines;
    },
    async stop() {
      child.disconnect();
      await exited;
    },
  };
}
