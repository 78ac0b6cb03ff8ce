import type { RecordEntry, RecordEntryOf } from '@taptrue/protocol';
import { firstState } from '../bench/first-state.ts';
import { SectionStore } from '../stream/section-store.ts';
import { FOLLOWS, JobReplay } from './job-replay.ts';

/** One thing that the record says and that does not come out again. */
export interface Difference {
  /** Which of the entries that follow from what happened, counted from 1. */
  number: number;
  recorded: RecordEntry | null;
  recomputed: RecordEntry | null;
}

export interface Recomputed {
  /** Entries that follow from what happened and came out the same, to the last digit. */
  same: number;
  differences: Difference[];
  /** Ended sweeps as they come out now. */
  sweeps: RecordEntryOf<'sweep ended'>[];
}

/** A record with more differences than this is another program's work; the rest adds nothing. */
export const MOST_DIFFERENCES = 100;

const isFollowing = ({ entry }: RecordEntry) => FOLLOWS.has(entry);

/** Tells a fresh bench what the record says happened, and compares what follows. Readings are not held in memory. */
export function recompute(
  opened: RecordEntryOf<'opened'>,
  entries: Iterable<RecordEntry>,
): Recomputed {
  const differences: Difference[] = [];
  const sweeps: RecordEntryOf<'sweep ended'>[] = [];
  const waiting: { recorded: RecordEntry[]; recomputed: RecordEntry[] } = {
    recorded: [],
    recomputed: [],
  };
  let same = 0;
  const settle = () => {
    while (waiting.recorded.length > 0 && waiting.recomputed.length > 0) {
      const recorded = waiting.recorded.shift()!;
      const recomputed = waiting.recomputed.shift()!;
      if (JSON.stringify(recorded) === JSON.stringify(recomputed)) same += 1;
      else differ(recorded, recomputed);
    }
  };
  const differ = (recorded: RecordEntry | null, recomputed: RecordEntry | null) => {
    if (differences.length >= MOST_DIFFERENCES) return;
    differences.push({ number: same + differences.length + 1, recorded, recomputed });
  };
  const replay = new JobReplay({
    store: new SectionStore(firstState(opened.bench, opened.version)),
    opened,
    onFollows: (entry) => {
      waiting.recomputed.push(entry);
      if (entry.entry === 'sweep ended') sweeps.push(entry);
    },
  });
  for (const entry of entries) {
    if (isFollowing(entry)) waiting.recorded.push(entry);
    else replay.apply(entry);
    settle();
  }
  for (const recorded of waiting.recorded) differ(recorded, null);
  for (const recomputed of waiting.recomputed) differ(null, recomputed);
  return { same, differences, sweeps };
}
