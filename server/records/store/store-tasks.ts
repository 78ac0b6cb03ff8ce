import type { Database } from './database.ts';
import type { READ_TASKS } from './read-tasks.ts';
import type { WRITE_TASKS } from './write-tasks.ts';

/** What can be asked of the store, by name; each thread has a table of its own and one connection. */
export type WriteTasks = typeof WRITE_TASKS;
export type ReadTasks = typeof READ_TASKS;

export type AnyTasks = Record<string, (db: Database, ask: never) => unknown>;
export type AskOf<T extends AnyTasks, K extends keyof T> = T[K] extends (db: Database) => unknown
  ? undefined
  : Parameters<T[K]>[1];
