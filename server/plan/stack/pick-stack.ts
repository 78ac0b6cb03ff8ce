import { allStacks, buildReach, fewestFor, MOST_BLOCKS, type Reach } from './reach.ts';

/** Stacks listed at most; a page shows twenty, a list shows that there is a choice. */
export const MOST_ALTERNATIVES = 1000;

/** A height of four decimals from a set of the trade takes up to six. */
const FEW_BLOCKS = 6;

export interface Picked {
  /** Block sizes in steps, from the last decimal up. */
  stack: number[];
  alternatives: number[][];
  /** There are more than MOST_ALTERNATIVES. */
  cut: boolean;
}

export type PickResult =
  | { kind: 'built'; picked: Picked }
  | { kind: 'not to be built'; below: number[] | null; above: number[] | null }
  | { kind: 'too fine' };

function pickFrom(reach: Reach, steps: number, mostBlocks: number): Picked | null {
  const count = fewestFor(reach, steps, mostBlocks);
  if (count === null) return null;
  const { stacks, cut } = allStacks(reach, steps, count, MOST_ALTERNATIVES);
  const [stack, ...alternatives] = stacks;
  return { stack: stack!, alternatives, cut };
}

function firstStack(reach: Reach, steps: number, mostBlocks: number): number[] {
  const count = fewestFor(reach, steps, mostBlocks)!;
  return allStacks(reach, steps, count, 1).stacks[0]!;
}

/** The reachable height nearest to `steps` in one direction, by least-count stack. */
function nearest(
  reach: Reach,
  from: number,
  way: 1 | -1,
  mostBlocks: number,
): { steps: number; stack: number[] } | null {
  for (let steps = from; steps > 0 && steps <= reach.topSteps; steps += way) {
    if (fewestFor(reach, steps, mostBlocks) !== null) {
      return { steps, stack: firstStack(reach, steps, mostBlocks) };
    }
  }
  return null;
}

/**
 * Fewest blocks that add up to `steps` exactly, with all stacks of as few. Sizes are whole steps; a size
 * given twice may be used twice. A `steps` with a fraction cannot be built; the nearest either side are
 * then given, as for any other height out of reach.
 */
export function pickStack(
  sizes: readonly number[],
  steps: number,
  mostBlocks: number = MOST_BLOCKS,
): PickResult {
  if (Number.isInteger(steps)) {
    const total = sizes.reduce((sum, size) => sum + size, 0);
    // Nearly every stack takes few blocks; a table that counts no further is half the work.
    const counts = mostBlocks > FEW_BLOCKS ? [FEW_BLOCKS, mostBlocks] : [mostBlocks];
    for (const most of steps >= 0 && steps <= total ? counts : []) {
      const reach = buildReach(sizes, steps, most);
      if (reach === null) return { kind: 'too fine' };
      const picked = pickFrom(reach, steps, most);
      if (picked) return { kind: 'built', picked };
    }
  }
  const largest = sizes.reduce((most, size) => Math.max(most, size), 0);
  const total = sizes.reduce((sum, size) => sum + size, 0);
  const top = Math.min(Math.ceil(Math.max(steps, 0)) + largest, total);
  const reach = buildReach(sizes, top);
  if (reach === null) return { kind: 'too fine' };
  const below = nearest(reach, Math.min(Math.ceil(steps) - 1, top), -1, mostBlocks);
  const above = nearest(reach, Math.max(Math.floor(steps) + 1, 1), 1, mostBlocks);
  return {
    kind: 'not to be built',
    below: below?.stack ?? null,
    above: above?.stack ?? null,
  };
}
