import { engravedSteps } from '@taptrue/server/plan/sets/read-set.ts';
import { shelfOf } from '@taptrue/server/plan/sets/shelf.ts';
import { STANDARD_SETS } from '@taptrue/server/plan/sets/standard-sets.ts';
import { MOST_ALTERNATIVES, pickStack } from '@taptrue/server/plan/stack/pick-stack.ts';
import { pickDifference, pickTwoStacks } from '@taptrue/server/plan/stack/pick-two.ts';
import { allStacks, buildReach } from '@taptrue/server/plan/stack/reach.ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

const sum = (sizes: readonly number[]) => sizes.reduce((total, size) => total + size, 0);

/** Every subset, looked at one by one: what the picker is held against. */
function exhaustive(
  sizes: readonly number[],
  steps: number,
): { count: number; stacks: Set<string> } | null {
  let count = Number.POSITIVE_INFINITY;
  let stacks = new Set<string>();
  for (let bits = 0; bits < 1 << sizes.length; bits += 1) {
    const taken = sizes.filter((_size, i) => (bits >> i) & 1);
    if (sum(taken) !== steps || taken.length > count) continue;
    if (taken.length < count) stacks = new Set();
    count = taken.length;
    stacks.add([...taken].sort((a, b) => a - b).join());
  }
  return stacks.size === 0 ? null : { count, stacks };
}

function sizesOf(id: string): number[] {
  const shelf = shelfOf(STANDARD_SETS.find((set) => set.id === id)!, []);
  if (!shelf.ok) throw new Error(shelf.fault.what);
  return shelf.value.sizes;
}

const smallSets = fc.array(
  fc.oneof(
    fc.integer({ min: 1, max: 60 }),
    fc.integer({ min: 1, max: 12 }).map((n) => n * 10),
  ),
  { minLength: 1, maxLength: 10 },
);

describe('the stack picker', () => {
  it('finds the least count and every stack of it, as looking at every subset does, equal sizes included', () => {
    fc.assert(
      fc.property(smallSets, fc.integer({ min: 1, max: 300 }), (sizes, steps) => {
        const truth = exhaustive(sizes, steps);
        const picked = pickStack(sizes, steps);
        if (truth === null) {
          expect(picked.kind).toBe('not to be built');
          return;
        }
        if (picked.kind !== 'built') throw new Error('not found');
        const all = [picked.picked.stack, ...picked.picked.alternatives];
        expect(new Set(all.map((stack) => [...stack].sort((a, b) => a - b).join()))).toEqual(
          truth.stacks,
        );
        expect(all).toHaveLength(truth.stacks.size);
      }),
      { numRuns: 300 },
    );
  });

  it('names the nearest heights either side of one that cannot be made', () => {
    fc.assert(
      fc.property(smallSets, fc.integer({ min: 1, max: 300 }), (sizes, steps) => {
        const picked = pickStack(sizes, steps);
        if (picked.kind !== 'not to be built') return;
        const reachable = new Set<number>();
        for (let bits = 1; bits < 1 << sizes.length; bits += 1)
          reachable.add(sum(sizes.filter((_size, i) => (bits >> i) & 1)));
        const below = [...reachable].filter((one) => one < steps);
        const above = [...reachable].filter((one) => one > steps);
        expect(picked.below && sum(picked.below)).toBe(
          below.length > 0 ? Math.max(...below) : null,
        );
        expect(picked.above && sum(picked.above)).toBe(
          above.length > 0 ? Math.min(...above) : null,
        );
      }),
      { numRuns: 300 },
    );
  });

  it('adds up exactly and uses each block once in every shipped set', () => {
    for (const set of STANDARD_SETS) {
      const sizes = sizesOf(set.id);
      fc.assert(
        fc.property(fc.integer({ min: 1, max: 30_000 }), (steps) => {
          const picked = pickStack(sizes, steps);
          if (picked.kind !== 'built') return;
          for (const stack of [picked.picked.stack, ...picked.picked.alternatives.slice(0, 20)]) {
            expect(sum(stack)).toBe(steps);
            for (const size of stack)
              expect(stack.filter((one) => one === size).length).toBeLessThanOrEqual(
                sizes.filter((one) => one === size).length,
              );
          }
        }),
        { numRuns: 8 },
      );
    }
  });

  it('lists at most so many alternatives and says that there are more', () => {
    const sizes = sizesOf('metric-112');
    const found = allStacks(buildReach(sizes, 100_000)!, 100_000, 5, MOST_ALTERNATIVES);
    expect(found.cut).toBe(true);
    expect(found.stacks).toHaveLength(MOST_ALTERNATIVES);
  });

  it('makes two stacks at once without a block in both', () => {
    const sizes = sizesOf('inch-81');
    const [first, second] = ['0.8682', '0.8682'].map((text) => engravedSteps(text, 'in') as number);
    const two = pickTwoStacks(sizes, first!, second!)!;
    expect([sum(two.first), sum(two.second)]).toEqual([first, second]);
    expect(two.first.filter((size) => two.second.includes(size))).toEqual([]);
    expect(pickTwoStacks([10, 20], 10, 10)).toBeNull();
  });

  it('raises both rolls so that only the difference counts', () => {
    const two = pickDifference(sizesOf('inch-81'), 872)!;
    expect(sum(two.high) - sum(two.low)).toBe(872);
    expect([...two.low, ...two.high]).toHaveLength(2);
  });
});
