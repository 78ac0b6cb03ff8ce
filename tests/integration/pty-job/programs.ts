import { type ChildProcess, spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const LAUNCHER = fileURLToPath(new URL('../../../server/bin/taptrue.js', import.meta.url));
/** Starting a program on a machine that is busy with other tests. */
const SAID_WITHIN_MS = 20_000;

/** One program run as a user runs it, with what it said so far. */
export class Program {
  said = '';
  readonly #child: ChildProcess;
  readonly #ended: Promise<number | null>;
  readonly #hearers = new Set<() => void>();

  constructor(...args: string[]) {
    this.#child = spawn(process.execPath, [LAUNCHER, ...args], { stdio: 'pipe' });
    for (const stream of [this.#child.stdout!, this.#child.stderr!]) {
      stream.on('data', (text) => {
        this.said += text;
        for (const hear of this.#hearers) hear();
      });
    }
    this.#ended = new Promise((resolve) => this.#child.once('exit', resolve));
  }

  /** The first match in what it says from `from` on. */
  async says(pattern: RegExp, from = 0): Promise<RegExpExecArray> {
    return new Promise((resolve, reject) => {
      const look = () => {
        const match = pattern.exec(this.said.slice(from));
        if (match === null) return;
        clearTimeout(timer);
        this.#hearers.delete(look);
        resolve(match);
      };
      const timer = setTimeout(() => {
        this.#hearers.delete(look);
        reject(new Error(`${pattern} was not said; said: ${this.said.slice(from)}`));
      }, SAID_WITHIN_MS);
      this.#hearers.add(look);
      look();
      void this.#ended.then((code) => reject(new Error(`it ended with ${code}: ${this.said}`)));
    });
  }

  /** Types a line and gives the line it is answered by. */
  async type(line: string): Promise<string> {
    const from = this.said.length;
    this.#child.stdin!.write(`${line}\n`);
    return (await this.says(/.*\n/, from))[0].trim();
  }

  /** Ends it as Ctrl-C does; gives its exit code. */
  async stop(): Promise<number | null> {
    this.#child.kill('SIGINT');
    return this.#ended;
  }
}
