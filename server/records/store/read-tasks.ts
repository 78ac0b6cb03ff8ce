import { signingFingerprint } from '../exchange/signing-fingerprint.ts';
import { jobDetail, keptSweeps, noteFacts, turnsOf } from './find-detail.ts';
import { findJobs } from './find-jobs.ts';
import { finalSweeps, proofNames, turnsOfVise } from './find-learned.ts';
import { marksOf, overview } from './read-overview.ts';
import { chunkHeads, chunkLines } from './read-record.ts';

/** What is asked of the thread that reads beside the one that writes: a long list never holds up a reading. */
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
  signingFingerprint,
} as const;
