import type { BlockSet } from '@taptrue/protocol';
import { stepsText } from '../exact-length.ts';
import { type Planned, refuse } from '../plan-fault.ts';
import { greatestCommonDivisor } from '../stack/reach.ts';
import { engravedSteps } from './read-set.ts';

/** The blocks that may be used, as whole steps. */
export interface Shelf {
  set: BlockSet;
  /** One entry per piece. */
  sizes: number[];
  /** Steps that every sum is a multiple of: what the set can resolve. */
  resolutionSteps: number;
}

/** As engraved in this set; an outside block (wear) in shop digits. */
export function engraved(set: BlockSet, steps: number): string {
  const block = set.blocks.find((one) => engravedSteps(one.size, set.unit) === steps);
  return block?.size ?? stepsText(steps, set.unit);
}

/** Reads one size named by the user, in the unit of the set. */
export function readBlock(set: BlockSet, field: string, text: string): Planned<number> {
  const steps = engravedSteps(text.trim(), set.unit);
  if (typeof steps === 'number') return { ok: true, value: steps };
  return refuse(
    field,
    'malformed-block',
    `Block "${text}" ${steps}.`,
    `"${text}"`,
    'Write sizes as engraved, without a unit: 0.1002 or 1.005.',
  );
}

/** The set less what is struck off, in it or for this job. */
export function shelfOf(set: BlockSet, without: readonly string[]): Planned<Shelf> {
  const sizes: number[] = [];
  for (const block of set.blocks) {
    const steps = engravedSteps(block.size, set.unit);
    if (typeof steps === 'string' || block.struck) continue;
    for (let piece = 0; piece < (block.count ?? 1); piece += 1) sizes.push(steps);
  }
  for (const text of without) {
    const read = readBlock(set, 'without', text);
    if (!read.ok) return read;
    const at = sizes.indexOf(read.value);
    if (at < 0) {
      return refuse(
        'without',
        'block-not-in-set',
        `Block ${text} is not in ${set.id}, or struck off already.`,
        `"${text}"`,
        'Name blocks of the set as engraved.',
      );
    }
    sizes.splice(at, 1);
  }
  if (sizes.length === 0)
    return refuse('set', 'empty-set', `No block of ${set.id} is left.`, '', 'Put some back.');
  return { ok: true, value: { set, sizes, resolutionSteps: sizes.reduce(greatestCommonDivisor) } };
}
