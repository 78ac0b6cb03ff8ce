import { shelfOf } from '@taptrue/server/plan/sets/shelf.ts';
import { STANDARD_SETS } from '@taptrue/server/plan/sets/standard-sets.ts';
import { pickStack } from '@taptrue/server/plan/stack/pick-stack.ts';

/** Plain exhaustive search: every choice of one block, then of two, and so on, until some add up. */
function exhaustive(sizes: readonly number[], steps: number, most: number): number {
  let found = 0;
  const choose = (from: number, left: number, wanted: number): void => {
    if (wanted === 0) {
      if (left === 0) found += 1;
      return;
    }
    for (let i = from; i <= sizes.length - wanted; i += 1)
      choose(i + 1, left - sizes[i]!, wanted - 1);
  };
  for (let count = 1; count <= most && found === 0; count += 1) choose(0, steps, count);
  return found;
}

const HEIGHTS_MM = [58.345, 21.9885, 123.465, 97.2715, 149.3845, 238.675];

/** Plain search of five blocks out of 112 is 134 million choices; beyond that it is not waited for. */
const MOST_WAITED_FOR = 5;

const set = STANDARD_SETS.find((one) => one.id === 'metric-112')!;
const shelf = shelfOf(set, []);
if (!shelf.ok) throw new Error(shelf.fault.what);
const { sizes } = shelf.value;

console.log(`Stack picker, ${sizes.length}-piece metric set, all stacks of the fewest blocks`);
console.log(
  'height mm   blocks   stacks   picker ms: least, median, worst of 15    plain search ms',
);
for (const heightMm of HEIGHTS_MM) {
  const steps = Math.round(heightMm * 2000);
  const times: number[] = [];
  let blocks = 0;
  let stacks = 0;
  for (let round = 0; round < 15; round += 1) {
    const startedMs = performance.now();
    const result = pickStack(sizes, steps, 6);
    times.push(performance.now() - startedMs);
    if (result.kind !== 'built') continue;
    blocks = result.picked.stack.length;
    stacks = result.picked.alternatives.length + 1;
  }
  times.sort((a, b) => a - b);
  let plain = blocks === 0 ? 'no stack of 6 or fewer' : `not waited for (${blocks} blocks)`;
  if (blocks > 0 && blocks <= MOST_WAITED_FOR) {
    const startedMs = performance.now();
    const found = exhaustive(sizes, steps, blocks);
    plain = `${(performance.now() - startedMs).toFixed(0)}${found === stacks ? '' : ` FOUND ${found}`}`;
  }
  console.log(
    `${heightMm.toFixed(4).padStart(9)}   ${String(blocks).padStart(6)}   ${String(stacks).padStart(6)}   ${times[0]!.toFixed(1).padStart(16)}, ${times[7]!.toFixed(1).padStart(6)}, ${times.at(-1)!.toFixed(1).padStart(6)}   ${plain.padStart(25)}`,
  );
}
