import type { BlockSet } from '@taptrue/protocol';
import { INCH_SETS } from './inch-sets.ts';
import { METRIC_SETS } from './metric-sets.ts';

/** The sets that ship: to be copied, edited and compared with the case they stand for. */
export const STANDARD_SETS: readonly BlockSet[] = [...INCH_SETS, ...METRIC_SETS];

/** How many pieces a set holds, struck ones included. */
export function piecesOf(set: BlockSet): number {
  return set.blocks.reduce((sum, block) => sum + (block.count ?? 1), 0);
}
