import { addEntry } from './add-entry.ts';
import { append } from './append.ts';
import { binJobs, emptyBin, restoreJobs } from './bin.ts';
import { chunkHeads, chunkLines, whereItStood } from './read-record.ts';

/**
 * What is asked of the thread that adds to the records. It also reads pieces back, so that a service that takes
 * a job up again starts one thread, not two. Nothing here may load the schemas: this thread stands between a
 * start and the first reading kept, and they take a second.
 */
export const WRITE_TASKS = {
  append,
  whereItStood,
  addEntry,
  binJobs,
  restoreJobs,
  emptyBin,
  chunkHeads,
  chunkLines,
} as const;
