import { keptSheet } from '../sheet/print-record.ts';
import { importRecordings } from './import-recordings.ts';

/** What takes long, by name, on a connection of its own: neither readings nor lists wait for it. */
export const WORK_TASKS = {
  importRecordings,
  keptSheet,
} as const;

export type WorkTasks = typeof WORK_TASKS;
