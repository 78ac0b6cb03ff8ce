import type { LinkState, Setup, Stage, TapAdvice, TapStep } from '@taptrue/protocol';

/** What the four sides of the picture are called. Swept along Y only these words change. */
export interface SideWords {
  low: string;
  high: string;
  top: string;
  bottom: string;
}

export function sideWords(axis: Setup['axis']): SideWords {
  return axis === 'x'
    ? { low: 'left', high: 'right', top: 'column', bottom: 'you' }
    : { low: 'near', high: 'far', top: 'left', bottom: 'right' };
}

/** The way of a signed movement across the swept edge, positive as the geometry has it. */
export function acrossWord(acrossMm: number, axis: Setup['axis']): string {
  if (axis === 'x') return acrossMm > 0 ? 'away from you' : 'toward you';
  return acrossMm > 0 ? 'to the left' : 'to the right';
}

export function directionWord(direction: TapAdvice['direction']): string {
  const words = {
    away: 'away from you',
    toward: 'toward you',
    left: 'to the left',
    right: 'to the right',
  } as const;
  return words[direction];
}

/** True if the surface at the mallet must move up in the picture: away, or left when swept along Y. */
export function movesUp(direction: TapAdvice['direction']): boolean {
  return direction === 'away' || direction === 'left';
}

export const STAGE_MEANS: Readonly<Record<Stage, string>> = {
  free: 'clamps loose',
  nipped: 'one bolt snug, one dragging',
  snug: 'both snug',
  tight: 'fully clamped',
};

export const LINK_WORDS: Readonly<Record<LinkState, string>> = {
  'not set': 'not set',
  opening: 'opening',
  live: 'live',
  'waiting for its key': 'waits for its key',
  silent: 'silent',
  'not understood': 'not understood',
  lost: 'lost',
  refused: 'refused',
};

export const EFFECT_WORDS: Readonly<Record<TapStep['effect'], string>> = {
  closer: 'closer',
  farther: 'farther: wrong way',
  past: 'went past',
  'nothing moved': 'nothing moved',
};
