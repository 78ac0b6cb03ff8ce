import { parentPort, workerData } from 'node:worker_threads';
import { codeOf, type Database } from './database.ts';
import { openStore, openStoreToRead } from './open-store.ts';
import type { AnyTasks } from './store-tasks.ts';

/** What the thread is told when it is made. */
export interface StoreThreadData {
  path: string;
  /** work: what takes long and needs both, so that neither readings nor lists wait for it. */
  mode: 'write' | 'read' | 'work';
}

export interface StoreRequest {
  id: number;
  task: string;
  ask: unknown;
}

export type StoreReply =
  | { id: number; ok: true; value: unknown }
  | { id: number; ok: false; code: string; message: string };

const { path, mode } = workerData as StoreThreadData;
/** Each thread loads its own table only: the one that writes is up before the others have read their schemas. */
const tasks = await tasksFor(mode);
let db: Database | null = null;

parentPort!.on('message', ({ id, task, ask }: StoreRequest) => {
  parentPort!.postMessage(answer(id, task, ask));
});

async function tasksFor(mode: StoreThreadData['mode']): Promise<AnyTasks> {
  switch (mode) {
    case 'write':
      return (await import('./write-tasks.ts')).WRITE_TASKS;
    case 'read':
      return (await import('./read-tasks.ts')).READ_TASKS;
    case 'work':
      return (await import('../exchange/work-tasks.ts')).WORK_TASKS;
  }
}

function answer(id: number, task: string, ask: unknown): StoreReply {
  try {
    if (task === 'close') {
      db?.close();
      db = null;
      return { id, ok: true, value: null };
    }
    // Opened when it is first needed, and tried anew after it could not be: the folder may be mended meanwhile.
    db ??= mode === 'read' ? openStoreToRead(path) : openStore(path);
    return { id, ok: true, value: tasks[task]!(db, ask as never) };
  } catch (error) {
    return {
      id,
      ok: false,
      code: codeOf(error),
      message: error instanceof Error ? error.message : String(error),
    };
  }
}
