/**
 * What can be added up, exactly, from a row of blocks each used at most once.
 *
 * Blocks are ordered finest first. For every tail of that row the table holds, for each number of blocks, one
 * bit per sum that is a multiple of the tail's greatest common divisor. Once the 1.001 to 1.009
 * blocks are behind, the rest adds up only to hundredths, so the tables shrink tenfold, and again tenfold
 * behind the hundredths: this is the "last decimal first" of the bench put into a table. A walk that asks
 * the table before every block never enters a branch without an answer.
 */
export interface Reach {
  /** Block sizes in steps, finest first; equal sizes stand beside each other. */
  row: readonly number[];
  /** Greatest common divisor of row[i..]; of the empty tail 0. */
  divisors: readonly number[];
  /** What row[i..] adds up to; from `firstTable` on. */
  tails: readonly Tail[];
  /** Before this place, sums are worked out where they are asked for, and kept here. */
  firstTable: number;
  asked: readonly Map<number, number>[];
  topSteps: number;
  /** Blocks counted at most: stacks of more are not seen. */
  mostBlocks: number;
}

/**
 * One layer for each number of blocks, `words` words long: bit n of layer k is set where k blocks of the tail
 * make n times its divisor. A block more is a layer moved along by its size, 32 sums at a time.
 */
export interface Tail {
  words: number;
  layers: Uint32Array;
}

/** Nobody wrings more. */
export const MOST_BLOCKS = 15;

/**
 * The first blocks are the finest and their tables the largest: 600,000 cells for 300 mm by 0.0005. But ten
 * blocks leave at most 1,024 sums to ask for, so for them nothing is laid out beforehand.
 */
const ASKED_NOT_LAID_OUT = 10;

/** 48 million sums of at most sixteen layers, 96 MB. The 112-piece set at 300 mm asks for 1.5 million. */
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
export function buildReach(
  sizes: readonly number[],
  topSteps: number,
  mostBlocks = MOST_BLOCKS,
): Reach | null {
  const row = finestFirst(sizes);
  const divisors = tailDivisors(row);
  const firstTable = Math.min(ASKED_NOT_LAID_OUT, row.length);
  let cells = 1;
  for (let i = firstTable; i < row.length; i += 1) cells += Math.floor(topSteps / divisors[i]!) + 1;
  if (cells > MOST_TABLE_CELLS) return null;
  const tails = new Array<Tail>(row.length + 1);
  tails[row.length] = { words: 1, layers: new Uint32Array(mostBlocks + 1).fill(1, 0, 1) };
  for (let i = row.length - 1; i >= firstTable; i -= 1) {
    const divisor = divisors[i]!;
    const most = Math.min(mostBlocks, row.length - i);
    const shift = row[i]! / divisor;
    tails[i] =
      divisors[i + 1] === divisor
        ? movedAlong(tails[i + 1]!, shift, most)
        : spreadOut(
            tails[i + 1]!,
            divisors[i + 1]! / divisor,
            shift,
            topSteps / divisor,
            mostBlocks,
          );
  }
  const asked = Array.from({ length: firstTable }, () => new Map<number, number>());
  return { row, divisors, tails, topSteps, firstTable, asked, mostBlocks };
}

/** The tail with one block more, of the same divisor. Bits past the top are never asked for. */
function movedAlong(next: Tail, shift: number, most: number): Tail {
  const { words } = next;
  const layers = next.layers.slice();
  const [whole, part] = [Math.floor(shift / 32), shift % 32];
  for (let k = 1; k <= most; k += 1) {
    const from = (k - 1) * words;
    const to = k * words;
    for (let word = words - 1; word >= whole; word -= 1) {
      const low = next.layers[from + word - whole]! << part;
      // Shifting by 32 is shifting by nothing, and would bring the word before in whole.
      const carried =
        part === 0 || word === whole ? 0 : next.layers[from + word - whole - 1]! >>> (32 - part);
      layers[to + word]! |= low | carried;
    }
  }
  return { words, layers };
}

/** The tail with one block more, whose size makes the divisor finer: each sum is put at its new place. */
function spreadOut(
  next: Tail,
  spread: number,
  shift: number,
  top: number,
  mostBlocks: number,
): Tail {
  const cells = Math.floor(top) + 1;
  const words = Math.ceil(cells / 32);
  const layers = new Uint32Array((mostBlocks + 1) * words);
  const put = (k: number, sum: number) => {
    if (k <= mostBlocks && sum < cells) layers[k * words + (sum >>> 5)]! |= 1 << (sum & 31);
  };
  for (let k = 0; k <= mostBlocks; k += 1) {
    for (let word = 0; word < next.words; word += 1) {
      for (let bits = next.layers[k * next.words + word]!; bits !== 0; bits &= bits - 1) {
        const sum = (word * 32 + 31 - Math.clz32(bits & -bits)) * spread;
        put(k, sum);
        put(k + 1, sum + shift);
      }
    }
  }
  return { words, layers };
}

/** Bit k set where k blocks of the whole row make `steps`. */
export function countsFor(reach: Reach, steps: number): number {
  return maskAt(reach, 0, steps);
}

function maskAt(reach: Reach, i: number, steps: number): number {
  const place = placeOf(reach, i, steps);
  if (place < 0) return 0;
  if (i >= reach.firstTable) {
    let mask = 0;
    for (let k = 0; k <= reach.mostBlocks; k += 1) mask |= bitAt(reach.tails[i]!, k, place) << k;
    return mask;
  }
  const known = reach.asked[i]!.get(steps);
  if (known !== undefined) return known;
  const without = maskAt(reach, i + 1, steps);
  const found =
    (without | (maskAt(reach, i + 1, steps - reach.row[i]!) << 1)) & ((2 << reach.mostBlocks) - 1);
  reach.asked[i]!.set(steps, found);
  return found;
}

/** Whether exactly `count` blocks of row[i..] make `steps`. */
function canMake(reach: Reach, i: number, steps: number, count: number): boolean {
  if (i < reach.firstTable) return ((maskAt(reach, i, steps) >> count) & 1) === 1;
  const place = placeOf(reach, i, steps);
  return place >= 0 && bitAt(reach.tails[i]!, count, place) === 1;
}

/** Where `steps` stands in the table of row[i..]; negative: its blocks cannot make it. */
function placeOf(reach: Reach, i: number, steps: number): number {
  if (steps < 0) return -1;
  const divisor = reach.divisors[i]!;
  if (divisor === 0) return steps === 0 ? 0 : -1;
  return steps % divisor === 0 ? steps / divisor : -1;
}

function bitAt({ words, layers }: Tail, count: number, place: number): number {
  return place >>> 5 < words ? (layers[count * words + (place >>> 5)]! >>> (place & 31)) & 1 : 0;
}

/** Fewest blocks that make `steps`, at most `mostBlocks`; null: it cannot be made. */
export function fewestFor(reach: Reach, steps: number, mostBlocks: number): number | null {
  const bits = countsFor(reach, steps);
  for (let count = 0; count <= Math.min(mostBlocks, reach.mostBlocks); count += 1) {
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
    if (cut || !canMake(reach, i, left, wanted)) return;
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
