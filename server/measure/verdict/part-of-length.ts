import { type Caution, formatLength } from '@taptrue/protocol';
import type { SweepInput } from './sweep-input.ts';

/**
 * A part of the bar is not the bar: swept over 20 of 127 mm a line was called true within 0.010 mm that lay
 * 0.057 mm out over the whole. A stylus stops a little short of each end, so not all of it is asked for.
 */
const LEAST_SHARE = 0.9;

/** Said where the line covers too little of the length that limit, marks, stations or plan speak of; else null. */
export function partOfLength(input: SweepInput, sweptMm: number): Caution | null {
  const overMm = input.limit?.kind === 'end to end' ? input.limit.overMm : null;
  const wholeMm = Math.max(input.spokenLengthMm ?? 0, overMm ?? 0);
  if (sweptMm >= LEAST_SHARE * wholeMm) return null;
  const length = (mm: number) => formatLength(mm, input.displayUnit);
  return {
    code: 'part-of-length',
    text: `Only ${length(sweptMm)} of ${length(wholeMm)} were swept, and what was not swept is not called true. Sweep the whole length, or set the length that is meant.`,
  };
}
