/**
 * What can be added up, exactly, from a row of blocks each used at most once.
 *
 * Blocks are ordered finest first. For every tail of that row the table holds, for each sum that is a
 * multiple of the tail's greatest common divisor, one bit per number of blocks. Once the 1.001 to 1.009
 * blocks are behind, the rest adds up only to hundredths, so the tables shrink tenfold, and again tenfold
 * behind the hundredths: this is the "last decimal first" of the bench put into a table. A walk that asks
 * the table before every block never enters a branch without an answer.
 */
export interface Reach {
  /** Block sizes in steps, finest first; equal sizes stand beside each other. */
  row: readonly number[];
  /** Greatest common divisor of row[i..]; of the empty tail 0. */
  divisors: readonly number[];
  /** masks[i][sum / divisors[i]]: bit k set where k blocks of row[i..] make the sum; from `firstTable` on. */
  masks: readonly Uint16Array[];
  /** Before this place, masks are worked out where they are asked for, and kept here. */
  firstTable: number;
  asked: readonly Map<number, number>[];
  topSteps: number;
}

/** Bits in one cell less the one for no block; nobody wrings more. */
export const MOST_BLOCKS = 15;

/**
 * The first blocks are the finest and their tables the largest: 600,000 cells for 300 mm by 0.0005. But ten
 * blocks leave at most 1,024 sums to ask for, so for them nothing is laid out beforehand.
 */
const ASKED_NOT_LAID_OUT = 10;

/** 48 million cells of two bytes. The 112-piece set at 300 mm asks for 1.5 million. */
export const MOST_TABLE_CELLS = 48_000_000;

const TENS = 10 ** 9;

export function greatestCommonDivisor(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y !== 0) [x, y] = [y, x % y];
  return x;
}

function finestFirst(sizes: readonly number[]): number[] {
  const fineness = (size: number) => greatestCommonDivisor(size, TENS);
  return [...sizes].sort((a, b) => fineness(a) - fineness(b) || a - b);
}

function tailDivisors(row: readonly number[]): number[] {
  const divisors = new Array<number>(row.length + 1).fill(0);
  for (let i = row.length - 1; i >= 0; i -= 1) {
    divisors[i] = greatestCommonDivisor(row[i]!, divisors[i + 1]!);
  }
  return divisors;
}

/** The table for sums up to `topSteps`; null where it would need more than MOST_TABLE_CELLS. */
export function buildReach(sizes: readonly number[], topSteps: number): Reach | null {
  const row = finestFirst(sizes);
  const divisors = tailDivisors(row);
  const firstTable = Math.min(ASKED_NOT_LAID_OUT, row.length);
  let cells = 1;
  for (let i = firstTable; i < row.length; i += 1) cells += Math.floor(topSteps / divisors[i]!) + 1;
  if (cells > MOST_TABLE_CELLS) return null;
  const masks = new Array<Uint16Array>(row.length + 1);
  masks[row.length] = Uint16Array.of(1);
  for (let i = row.length - 1; i >= firstTable; i -= 1) {
    const next = masks[i + 1]!;
    const mask = new Uint16Array(Math.floor(topSteps / divisors[i]!) + 1);
    const spread = divisors[i + 1]! / divisors[i]!;
    const shift = row[i]! / divisors[i]!;
    for (let from = 0; from < next.length; from += 1) {
      const bits = next[from]!;
      if (bits === 0) continue;
      const at = from * spread;
      mask[at]! |= bits;
      if (at + shift < mask.length) mask[at + shift]! |= bits << 1;
    }
    masks[i] = mask;
  }
  const asked = Array.from({ length: firstTable }, () => new Map<number, number>());
  return { row, divisors, masks, topSteps, firstTable, asked };
}

/** Bit k set where k blocks of the whole row make `steps`. */
export function countsFor(reach: Reach, steps: number): number {
  return maskAt(reach, 0, steps);
}

function maskAt(reach: Reach, i: number, steps: number): number {
  if (steps < 0) return 0;
  const divisor = reach.divisors[i]!;
  if (divisor === 0) return steps === 0 ? 1 : 0;
  if (steps % divisor !== 0) return 0;
  if (i >= reach.firstTable) return reach.masks[i]![steps / divisor] ?? 0;
  const known = reach.asked[i]!.get(steps);
  if (known !== undefined) return known;
  const without = maskAt(reach, i + 1, steps);
  const found = (without | (maskAt(reach, i + 1, steps - reach.row[i]!) << 1)) & 0xffff;
  reach.asked[i]!.set(steps, found);
  return found;
}

/** Fewest blocks that make `steps`, at most `mostBlocks`; null: it cannot be made. */
export function fewestFor(reach: Reach, steps: number, mostBlocks: number): number | null {
  const bits = countsFor(reach, steps);
  for (let count = 0; count <= Math.min(mostBlocks, MOST_BLOCKS); count += 1) {
    if ((bits >> count) & 1) return count;
  }
  return null;
}

/** Every stack of exactly `count` blocks that makes `steps`, up to `most`; `cut`: there are more. */
export function allStacks(
  reach: Reach,
  steps: number,
  count: number,
  most: number,
): { stacks: number[][]; cut: boolean } {
  const stacks: number[][] = [];
  const taken: number[] = [];
  let cut = false;

  function walk(i: number, left: number, wanted: number): void {
    if (cut || !((maskAt(reach, i, left) >> wanted) & 1)) return;
    if (wanted === 0) {
      if (stacks.length === most) cut = true;
      else stacks.push([...taken]);
      return;
    }
    const size = reach.row[i]!;
    taken.push(size);
    walk(i + 1, left - size, wanted - 1);
    taken.pop();
    // Of several blocks of one size the first are taken, so that no stack is listed twice.
    let next = i + 1;
    while (reach.row[next] === size) next += 1;
    walk(next, left, wanted);
  }

  walk(0, steps, count);
  return { stacks, cut };
}
