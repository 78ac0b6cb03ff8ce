import { Worker } from 'node:worker_threads';
import type { ReplayRequest, ReplayThreadData, ReplayWord } from './replay-messages.ts';

export interface ReplayThreadOptions {
  storePath: string;
  onWord(word: ReplayWord): void;
  /** It ended by itself; what played in it is gone. */
  onDeath(why: string): void;
}

/**
 * The thread that all replays play in, so that however fast they play, the live readings do not wait for them. It
 * is made when it is first wanted: that takes three seconds of a core, so whoever may soon want it says so.
 */
export class ReplayThread {
  readonly #options: ReplayThreadOptions;
  #worker: Worker | null = null;
  #isUp = false;

  constructor(options: ReplayThreadOptions) {
    this.#options = options;
  }

  get isWarm(): boolean {
    return this.#worker !== null;
  }

  ask(request: ReplayRequest): void {
    this.warm().postMessage(request);
  }

  warm(): Worker {
    if (this.#worker) return this.#worker;
    const workerData: ReplayThreadData = { storePath: this.#options.storePath };
    const worker = new Worker(new URL('../../bin/replay-thread.js', import.meta.url), {
      workerData,
    });
    this.#worker = worker;
    this.#isUp = false;
    worker.on('message', (word: ReplayWord) => {
      this.#isUp = true;
      this.#options.onWord(word);
    });
    worker.on('error', (error) => this.#died(worker, error.message));
    worker.on('exit', () => this.#died(worker, 'the thread of the replays ended'));
    return worker;
  }

  /** Resolves when the thread has ended. */
  async close(): Promise<void> {
    const worker = this.#worker;
    if (!worker) return;
    this.#worker = null;
    const ended = new Promise<void>((resolve) => worker.once('exit', () => resolve()));
    const request: ReplayRequest = { ask: 'end' };
    // Asked, not cut off: a thread that is cut off within a read of the store takes the whole process with it.
    // One that is still being made reads nothing, and would only end after that.
    if (this.#isUp) worker.postMessage(request);
    else void worker.terminate();
    await ended;
  }

  #died(worker: Worker, why: string): void {
    if (this.#worker !== worker) return;
    this.#worker = null;
    this.#options.onDeath(why);
  }
}
