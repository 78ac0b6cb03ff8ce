import type { TeachQuestion } from '@taptrue/protocol';
import type { Segment } from './align-spans.ts';
import type { ChecksumFound } from './guess-packed-marks.ts';

/** What the fields of a taught shape are built from. */
export interface BuildFrom {
  segments: readonly Segment[];
  /** Of each segment the texts that were seen in all lines. */
  seen: readonly (readonly string[])[];
  question: TeachQuestion;
  checksum: ChecksumFound | null;
  /** Decimals that what the screen said gives away; null: nothing was said. */
  decimalsSaid: number | null;
  negative: 'twos complement' | 'top bit';
}
