import type { LineShape } from '@taptrue/protocol';
import type { Evidence } from './shape-hearing.ts';

/**
 * One whole frame is taken for a reading only above this. A search listens to some 70 settings, in three
 * meanings of the eighth bit, with some ten shapes, and hears at most 16,000 places where a frame could
 * begin: 2^25 chances. Noise then gives a frame of 32 bits once in a hundred searches, and that alone is
 * never enough in a stream of noise, where nine bytes of ten must belong to frames.
 */
const LEAST_WORTH_ALONE_BITS = 32;
/** Two frames or more together. */
const LEAST_WORTH_TOGETHER_BITS = 56;
/** Share of the bytes after the first whole frame that must stand in frames the shape takes. */
const LEAST_SHARE_TAKEN = 0.9;
/** So much is worth listening on for. */
const PROMISING_SHARE = 0.5;

export type Judgement = 'recognised' | 'one reading' | 'promising' | 'nothing';

function shareTaken({ takenBytes, missedBytes }: Evidence): number {
  const all = takenBytes + missedBytes;
  return all === 0 ? 0 : takenBytes / all;
}

/** Pure. "one reading" is enough where the device sends at its key or when asked, not for a stream. */
export function judgeEvidence(evidence: Evidence): Judgement {
  const share = shareTaken(evidence);
  if (evidence.readings === 0 || share < PROMISING_SHARE) return 'nothing';
  if (share < LEAST_SHARE_TAKEN) return 'promising';
  if (evidence.readings >= 2 && evidence.worthBits >= LEAST_WORTH_TOGETHER_BITS) {
    return 'recognised';
  }
  return evidence.meanWorthBits >= LEAST_WORTH_ALONE_BITS ? 'one reading' : 'promising';
}

/** What was heard of one listening, best first: the most specific shape, the eighth bit as data before parity. */
export function bestFirst(all: readonly Evidence[]): Evidence[] {
  return all
    .map((evidence, index) => ({ evidence, index, worth: worthOf(evidence) }))
    .sort((one, other) => other.worth - one.worth || one.index - other.index)
    .map(({ evidence }) => evidence);
}

/** Rounded, so that shapes that allow the same are equal whichever digits came. */
export function worthOf(evidence: Evidence): number {
  return Math.round(evidence.meanWorthBits * shareTaken(evidence) * 4) / 4;
}

/** Those of one listening that are good enough, best first. `alone`: one reading is enough. */
export function recognised(all: readonly Evidence[], alone: boolean): Evidence[] {
  return bestFirst(
    all.filter((evidence) => {
      const judgement = judgeEvidence(evidence);
      return judgement === 'recognised' || (alone && judgement === 'one reading');
    }),
  );
}

/** Those that read all that came, however little it says: an answer to a request may be asked for again. */
export function readingAll(all: readonly Evidence[]): Evidence[] {
  return bestFirst(all.filter((one) => one.readings > 0 && shareTaken(one) >= LEAST_SHARE_TAKEN));
}

export function isPromising(all: readonly Evidence[]): boolean {
  return all.some((evidence) => judgeEvidence(evidence) !== 'nothing');
}

/** Shapes that read every line alike differ in when the device sends only. */
export function readsAlike(one: LineShape, other: LineShape): boolean {
  const form = ({ framing, packed, fields, specials }: LineShape) =>
    JSON.stringify([framing, packed ?? null, fields, specials]);
  return form(one) === form(other);
}
