import {
  formatAngle,
  formatLength,
  type LinkState,
  radiansFromArcsec,
  type Setup,
  type Stage,
  type SweepResult,
  type TapStep,
} from '@taptrue/protocol';

/** What the four sides of the picture are called. Swept along Y only these words change. */
export interface SideWords {
  low: string;
  high: string;
  top: string;
  bottom: string;
}

export function sideWords(axis: Setup['axis']): SideWords {
  return axis === 'x'
    ? { low: 'left', high: 'right', top: 'rear of the machine', bottom: 'you' }
    : { low: 'near', high: 'far', top: 'left', bottom: 'right' };
}

/** The way of a signed movement across the swept edge, positive as the geometry has it. */
export function acrossWord(acrossMm: number, axis: Setup['axis']): string {
  if (axis === 'x') return acrossMm > 0 ? 'away from you' : 'toward you';
  return acrossMm > 0 ? 'to the left' : 'to the right';
}

/** `nearer you`, or how an end lies where Y is swept: the lower end of the picture, then the upper. */
export function endLies(isLower: boolean, axis: Setup['axis']): string {
  if (axis === 'x') return isLower ? 'nearer you' : 'farther from you';
  return isLower ? 'farther right' : 'farther left';
}

/** `0.0184 in, right end nearer you`: how the swept edge lies, in words instead of a sign. */
export function endToEndWords(
  { endToEndMm }: Pick<SweepResult, 'endToEndMm'>,
  { displayUnit, axis, rises }: Pick<Setup, 'displayUnit' | 'axis' | 'rises'>,
): string {
  const size = formatLength(Math.abs(endToEndMm), displayUnit);
  if (rises === null) return `${size}, which way is not known`;
  if (Number.parseFloat(size) === 0) return size;
  return `${size}, ${sideWords(axis).high} end ${endLies(endToEndMm < 0, axis)}`;
}

/** `0° 1′ 18″ counter-clockwise`: a signed turn in words, seen from above. */
export function turnText(arcsec: number): string {
  const size = formatAngle(radiansFromArcsec(Math.abs(arcsec)));
  if (arcsec === 0) return size;
  return `${size} ${arcsec > 0 ? 'counter-clockwise' : 'clockwise'}`;
}

/** Which way the bar goes where the reading rises, `toward` and `away` as the geometry has them. */
export function senseWords(axis: Setup['axis']): { toward: string; away: string } {
  return axis === 'x'
    ? { toward: 'toward you', away: 'away from you' }
    : { toward: 'to your right', away: 'to your left' };
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
