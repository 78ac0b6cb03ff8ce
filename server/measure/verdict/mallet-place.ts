/**
 * A lever below a quarter of the swept length: a blow pushes on the bolt more than it turns, and a pivot off by
 * a centimetre changes what it does by a third (common practice, no source).
 */
export const SHORT_LEVER_SHARE = 0.25;

export interface MalletQuestion {
  /** Where the user strikes, mm along the work. */
  chosenMm: number;
  /** The same place at the other end of the vise, mm. */
  otherMm: number;
  /** Where the vise turns for a blow at the chosen place, and at the other, mm. */
  pivotMm: { chosen: number; other: number };
  /** Blows were tried there and hardly turned the vise. */
  hardlyTurns: { chosen: boolean; other: boolean };
  sweptMm: number;
}

/** `other`: the lever at the chosen end is short, the one at the other end longer. `neither`: both are short. */
export type MalletPlace = 'chosen' | 'other' | 'neither';

/** Which end a blow turns the vise at: the chosen one, unless the pivot lies there. */
export function malletPlace(question: MalletQuestion): MalletPlace {
  const { chosenMm, otherMm, pivotMm, hardlyTurns, sweptMm } = question;
  const shortMm = SHORT_LEVER_SHARE * sweptMm;
  if (Math.abs(chosenMm - pivotMm.chosen) >= shortMm && !hardlyTurns.chosen) return 'chosen';
  // What was tried counts before what was said: where blows turn nothing, the pivot is not where it was declared.
  const otherTurns = hardlyTurns.chosen || Math.abs(otherMm - pivotMm.other) >= shortMm;
  return otherTurns && !hardlyTurns.other ? 'other' : 'neither';
}
