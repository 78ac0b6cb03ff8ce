import type { JobCard, JobStart, NudgesSection, RecordEntry, Setup } from '@taptrue/protocol';
import type { SetUp } from '../set-ups/set-up.ts';

export interface BenchOptions {
  name: string;
  serviceVersion: string;
  /** Other set-ups that may be chosen; left out: none. */
  setUps?: readonly SetUp[];
  /** From the last time the service ran: what its user need not say again. */
  remembered: { setup: Setup; nudges: NudgesSection; card?: JobCard | undefined } | null;
  /** How everything stood when the job began, where it is taken up again or replayed. */
  start?: JobStart;
  isSimulated?: boolean;
  /** Time of day for the record, ISO 8601; nothing is reckoned with it. */
  wallClock?(): string;
  /** Numbers and keys of new jobs; each call gives the next. Without it they count from 1. */
  nextJob?(): { number: number; key: string };
  record(entry: RecordEntry): void;
}
