import { allStacks, buildReach, fewestFor, MOST_BLOCKS } from './reach.ts';

/** Stacks of one count looked at for each of two heights; beyond it the answer may not be the shortest. */
export const MOST_LOOKED_AT = 1500;

/** Blocks beyond the fewest that each height alone would take, before giving up. */
const MOST_EXTRA = 4;

export interface TwoStacks {
  first: number[];
  second: number[];
  /** Not every combination was looked at: a pair with fewer blocks may exist. */
  cut: boolean;
}

/** How often each size is there. */
function stockOf(sizes: readonly number[]): Map<number, number> {
  const stock = new Map<number, number>();
  for (const size of sizes) stock.set(size, (stock.get(size) ?? 0) + 1);
  return stock;
}

function canStandTogether(first: number[], second: number[], stock: Map<number, number>): boolean {
  return first.every((size) => {
    const used =
      first.filter((other) => other === size).length +
      second.filter((other) => other === size).length;
    return used <= stock.get(size)!;
  });
}

/** Two heights at once from one set, fewest blocks together, no block in both; null: not to be had. */
export function pickTwoStacks(
  sizes: readonly number[],
  firstSteps: number,
  secondSteps: number,
): TwoStacks | null {
  const reach = buildReach(sizes, Math.max(firstSteps, secondSteps));
  if (reach === null) return null;
  const leastFirst = fewestFor(reach, firstSteps, MOST_BLOCKS);
  const leastSecond = fewestFor(reach, secondSteps, MOST_BLOCKS);
  if (leastFirst === null || leastSecond === null) return null;
  const stock = stockOf(sizes);
  let cut = false;
  for (let extra = 0; extra <= MOST_EXTRA; extra += 1) {
    for (let more = 0; more <= extra; more += 1) {
      const firsts = allStacks(reach, firstSteps, leastFirst + more, MOST_LOOKED_AT);
      const seconds = allStacks(reach, secondSteps, leastSecond + extra - more, MOST_LOOKED_AT);
      for (const first of firsts.stacks) {
        const second = seconds.stacks.find((other) => canStandTogether(first, other, stock));
        if (second) return { first, second, cut };
      }
      cut ||= firsts.cut || seconds.cut;
    }
  }
  return null;
}

/**
 * Two stacks whose difference is `differenceSteps`, for a bar with blocks under both rolls: one block
 * under the low roll, the rest under the other. Fewest blocks together; null: not to be had.
 */
export function pickDifference(
  sizes: readonly number[],
  differenceSteps: number,
): { low: number[]; high: number[] } | null {
  const distinct = [...new Set(sizes)].sort((a, b) => a - b);
  const stock = stockOf(sizes);
  const reach = buildReach(sizes, differenceSteps + (distinct.at(-1) ?? 0));
  if (reach === null) return null;
  for (let count = 1; count < MOST_BLOCKS; count += 1) {
    for (const low of distinct) {
      const { stacks } = allStacks(reach, differenceSteps + low, count, MOST_LOOKED_AT);
      const high = stacks.find((stack) => canStandTogether([low], stack, stock));
      if (high) return { low: [low], high };
    }
  }
  return null;
}
