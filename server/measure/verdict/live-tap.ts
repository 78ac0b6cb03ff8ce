import type { Rises } from '@taptrue/protocol';
import { readingFromSurface } from './surface.ts';
import { acrossShiftMm, moveWantedMm } from './tap.ts';

/**
 * Slope now, while the stylus is parked and the mallet works: b + (y_now - y_parked) / (x_s - x_p), heights
 * of the surface in mm. Short levers are refused before this is asked (`parkedTooNear`).
 */
export function slopeNow(
  slope: number,
  nowMm: number,
  parkedMm: number,
  stylusXMm: number,
  pivotMm: number,
): number {
  return slope + (nowMm - parkedMm) / (stylusXMm - pivotMm);
}

/** Turn still wanted, radians, positive counter-clockwise. */
export function remainingTurnRad(slope: number, target: number): number {
  return Math.atan(target) - Math.atan(slope);
}

/** Distance the surface at the mallet must still move, mm, positive away. */
export function remainingAtMalletMm(
  slope: number,
  target: number,
  malletMm: number,
  pivotMm: number,
): number {
  return moveWantedMm(slope, target, malletMm, pivotMm);
}

export interface StopBandQuestion {
  /** Slope when the stylus was parked. */
  slope: number;
  target: number;
  limitRad: number;
  parkedXMm: number;
  parkedReadingMm: number;
  pivotMm: number;
  acrossMm: number | null;
  rises: Rises | null;
  stylusFactor: number;
}

/** Readings between which the line lies inside the limit, mm, as the dial shows them. */
export function stopBandMm(question: StopBandQuestion): { lowMm: number; highMm: number } {
  const targetRad = Math.atan(question.target);
  const edges = [-question.limitRad, question.limitRad].map((offsetRad) => {
    const slope = Math.tan(targetRad + offsetRad);
    const across = question.acrossMm;
    const moveMm =
      moveWantedMm(question.slope, slope, question.parkedXMm, question.pivotMm) +
      (across === null ? 0 : acrossShiftMm(question.slope, slope, across));
    return (
      question.parkedReadingMm + readingFromSurface(moveMm, question.rises, question.stylusFactor)
    );
  });
  return { lowMm: Math.min(...edges), highMm: Math.max(...edges) };
}
