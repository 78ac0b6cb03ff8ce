import type { RecordEntry, RecordEntryOf } from '@taptrue/protocol';
import { type Difference, Recomputation } from './recomputation.ts';

export type { Difference } from './recomputation.ts';

export interface Recomputed {
  /** Entries that follow from what happened and came out the same, to the last digit. */
  same: number;
  differences: Difference[];
  /** Ended sweeps as they come out now. */
  sweeps: RecordEntryOf<'sweep ended'>[];
}

/**
 * Tells a fresh bench what the record says happened, and compares what follows. Readings are not held in
 * memory. Entries are counted from 1, the opening one left out; a difference names its entry by that.
 */
export function recompute(
  opened: RecordEntryOf<'opened'>,
  entries: Iterable<RecordEntry>,
): Recomputed {
  const sweeps: RecordEntryOf<'sweep ended'>[] = [];
  const again = new Recomputation(opened, {
    onSweep: (_recorded, recomputed) => {
      if (recomputed) sweeps.push(recomputed);
    },
  });
  let number = 0;
  for (const entry of entries) {
    number += 1;
    again.push(entry, number);
  }
  again.end();
  return { same: again.same, differences: again.differences, sweeps };
}
