import type { Setup } from '@taptrue/protocol';
import type { MalletPlace } from '../measure/verdict/mallet-place.ts';
import type { PivotEstimate } from '../measure/verdict/pivot.ts';

export type TappedEnd = 'left' | 'right';

/** The end of the vise at which a mallet at this place strikes, seen from the middle of the vise. */
export function endOf(malletMm: number, setup: Setup): TappedEnd {
  return malletMm >= (setup.vise.leftEndMm + setup.vise.rightEndMm) / 2 ? 'right' : 'left';
}

/** The pivot to reckon with, and where the mallet strikes for it. */
export interface PivotInUse extends PivotEstimate {
  source: 'declared' | 'learned';
  malletMm: number;
  mallet: MalletPlace;
}
