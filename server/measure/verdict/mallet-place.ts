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
  sweptMm: number;
}

/** `other`: the lever at the chosen end is short, the one at the other end longer. `neither`: both are short. */
export type MalletPlace = 'chosen' | 'other' | 'neither';

/** Which end a blow turns the vise at: the chosen one, unless the pivot lies there. */
export function malletPlace(question: MalletQuestion): MalletPlace {
  const { chosenMm, otherMm, pivotMm, sweptMm } = question;
  const shortMm = SHORT_LEVER_SHARE * sweptMm;
  if (Math.abs(chosenMm - pivotMm.chosen) >= shortMm) return 'chosen';
  return Math.abs(otherMm - pivotMm.other) >= shortMm ? 'other' : 'neither';
}
