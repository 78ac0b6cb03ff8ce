import type { Command } from '@taptrue/protocol';
import type { SectionStore } from '../../state/section-store.ts';
import type { JobJournal } from '../journal/job-journal.ts';

export const PROOF_KINDS = [
  'write note',
  'strike note',
  'tag job',
  'bin jobs',
  'restore jobs',
  'empty bin',
] as const;

export type ProofCommand = Extract<Command, { kind: (typeof PROOF_KINDS)[number] }>;

export interface ArchiveOptions {
  records: JobJournal;
  store: SectionStore;
  /** Key of the job that is going on. */
  runningJob(): string;
  /** Simulated and real jobs teach nothing of each other. */
  simulated: boolean;
  now(): number;
  wallClock(): string;
}
