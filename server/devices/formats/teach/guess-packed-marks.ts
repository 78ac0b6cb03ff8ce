import { CHECKSUM_RULES, type Mark } from '@taptrue/protocol';
import { checksumBytes, checksumText } from '../checksums.ts';

export interface ChecksumFound {
  rule: (typeof CHECKSUM_RULES)[number];
  of: 'from the start' | 'after the start';
  lowByteFirst: boolean;
}

/**
 * The checksum that fits the end of every frame, or null. Two bytes are tried before one. `halves`: half bytes
 * after the start; `bytesOf` gives the bytes of some of them.
 */
export function findChecksum(
  halves: readonly string[],
  start: string,
  bytesOf: (halves: string) => string,
): ChecksumFound | null {
  const rules = [...CHECKSUM_RULES].sort((one, other) => checksumBytes(other) - checksumBytes(one));
  for (const rule of rules) {
    const width = 2 * checksumBytes(rule);
    for (const of of ['after the start', 'from the start'] as const) {
      for (const lowByteFirst of width === 4 ? [true, false] : [false]) {
        const fits = halves.every((frame) => {
          const before = (of === 'from the start' ? start : '') + bytesOf(frame.slice(0, -width));
          const sum = checksumText(rule, Buffer.from(before, 'latin1'), lowByteFirst);
          return frame.slice(-width).toLowerCase() === sum;
        });
        if (fits && halves.length > 2) return { rule, of, lowByteFirst };
      }
    }
  }
  return null;
}

/** A first guess for half bytes: a checksum at the end if one fits, and the run that changes is the number. */
export function guessPackedMarks(halves: readonly string[], sum: ChecksumFound | null): Mark[] {
  const [first = ''] = halves;
  const end = first.length - (sum === null ? 0 : 2 * checksumBytes(sum.rule));
  const varies = (at: number) => halves.some((frame) => frame[at] !== first[at]);
  const changing = Array.from({ length: end }, (_, at) => at).filter(varies);
  const marks: Mark[] = [];
  const from = changing[0];
  const last = changing.at(-1);
  if (from !== undefined && last !== undefined) {
    let begins = from;
    while (begins > 0 && first[begins - 1] === '0' && !varies(begins - 1)) begins -= 1;
    marks.push({ from: begins, to: last + 1, means: 'number' });
  }
  if (sum !== null) marks.push({ from: end, to: first.length, means: 'checksum' });
  return marks;
}
