import { addEntry } from './add-entry.ts';
import { append } from './append.ts';
import { binJobs, emptyBin, restoreJobs } from './bin.ts';
import type { Database } from './database.ts';
import { jobDetail, keptSweeps, noteFacts, turnsOf } from './find-detail.ts';
import { findJobs } from './find-jobs.ts';
import { finalSweeps, proofNames, turnsOfVise } from './find-learned.ts';
import { marksOf, overview } from './read-overview.ts';
import { chunkHeads, chunkLines, whereItStood } from './read-record.ts';

/**
 * What can be asked of the store, by name. Each runs in the store's own thread, on one connection: `write` ones
 * where records are added, `read` ones beside it, so that a long list never holds up a reading.
 */
export const WRITE_TASKS = {
  append,
  whereItStood,
  addEntry,
  binJobs,
  restoreJobs,
  emptyBin,
} as const;

export const READ_TASKS = {
  chunkHeads,
  chunkLines,
  marksOf,
  overview,
  findJobs,
  jobDetail,
  keptSweeps,
  turnsOf,
  noteFacts,
  turnsOfVise,
  finalSweeps,
  proofNames,
} as const;

export type WriteTasks = typeof WRITE_TASKS;
export type ReadTasks = typeof READ_TASKS;

export type AnyTasks = Record<string, (db: Database, ask: never) => unknown>;
export type AskOf<T extends AnyTasks, K extends keyof T> = T[K] extends (db: Database) => unknown
  ? undefined
  : Parameters<T[K]>[1];
