import { Worker } from 'node:worker_threads';
import type { WorkTasks } from '../exchange/work-tasks.ts';
import type { AnyTasks, AskOf, ReadTasks, WriteTasks } from './store-tasks.ts';
import type { StoreReply, StoreThreadData } from './store-worker.ts';

/** Requests that may wait for the thread; a page that asks faster than a disk answers is told so. */
export const MOST_WAITING = 1000;

/** Why the store did not do what it was asked. `code` is SQLite's own where it has one. */
export class StoreRefusal extends Error {
  readonly code: string;
  constructor(code: string, message: string) {
    super(message);
    this.code = code;
  }
}

interface Waiting {
  resolve(value: unknown): void;
  reject(error: Error): void;
}

/**
 * The store in a thread of its own: the disk may take its time, the readings do not wait for it. A thread that
 * dies is made anew with the next request.
 */
export class StoreThread<T extends AnyTasks> {
  readonly #data: StoreThreadData;
  readonly #waiting = new Map<number, Waiting>();
  #worker: Worker | null = null;
  #ids = 0;

  private constructor(data: StoreThreadData) {
    this.#data = data;
  }

  /** The one connection that adds to the records. */
  static toWrite(path: string): StoreThread<WriteTasks> {
    return new StoreThread<WriteTasks>({ path, mode: 'write' });
  }

  /** A connection that only reads, beside the one that writes. */
  static toRead(path: string): StoreThread<ReadTasks> {
    return new StoreThread<ReadTasks>({ path, mode: 'read' });
  }

  /** A connection for what takes long: taking recordings in, printing. */
  static toWork(path: string): StoreThread<WorkTasks> {
    return new StoreThread<WorkTasks>({ path, mode: 'work' });
  }

  /** @throws StoreRefusal. */
  do<K extends keyof T & string>(task: K, ask: AskOf<T, K>): Promise<ReturnType<T[K]>> {
    return this.#ask(task, ask) as Promise<ReturnType<T[K]>>;
  }

  /** Closes the file and ends the thread; what was asked before is done first. */
  async close(): Promise<void> {
    const worker = this.#worker;
    if (!worker) return;
    await this.#ask('close', undefined).catch(() => undefined);
    this.#worker = null;
    await worker.terminate();
  }

  #ask(task: string, ask: unknown): Promise<unknown> {
    if (this.#waiting.size >= MOST_WAITING) {
      const message = `${MOST_WAITING} requests wait for the disk`;
      return Promise.reject(new StoreRefusal('STORE_BUSY', message));
    }
    this.#ids += 1;
    const id = this.#ids;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#started().postMessage({ id, task, ask });
    });
  }

  #started(): Worker {
    if (this.#worker) return this.#worker;
    const worker = new Worker(new URL('../../bin/store-thread.js', import.meta.url), {
      workerData: this.#data,
    });
    this.#worker = worker;
    worker.on('message', (reply: StoreReply) => this.#replied(reply));
    worker.on('error', (error) => this.#died(worker, error.message));
    worker.on('exit', () => this.#died(worker, 'the thread of the store ended'));
    return worker;
  }

  #replied(reply: StoreReply): void {
    const waiting = this.#waiting.get(reply.id);
    this.#waiting.delete(reply.id);
    if (reply.ok) waiting?.resolve(reply.value);
    else waiting?.reject(new StoreRefusal(reply.code, reply.message));
  }

  #died(worker: Worker, why: string): void {
    if (this.#worker !== worker) return;
    this.#worker = null;
    for (const { reject } of this.#waiting.values()) reject(new StoreRefusal('STORE_DIED', why));
    this.#waiting.clear();
  }
}
