import { type Fault, formatLength, type LengthUnit, type SweepResult } from '@taptrue/protocol';

/** A place said by hand is found to half a millimetre; a bar that was swept is not longer than this beyond, mm. */
const SAID_BEYOND_MM = 1;
/** A stylus at work may stand a little beyond what was swept: as much of the length as a sweep may leave out. */
const SEEN_BEYOND_SHARE = 0.1;

/** Refused where the stylus is said to stand where nothing was swept; null: it may stand there. Pure. */
export function beyondTheBar(
  { fromMm, toMm, lengthMm }: SweepResult,
  xMm: number,
  isSaid: boolean,
  unit: LengthUnit,
): Fault | null {
  // A typed place may lie in the tenth at either end that the sweep left out, and no farther.
  const marginMm = Math.max(SAID_BEYOND_MM, SEEN_BEYOND_SHARE * lengthMm);
  const lowMm = isSaid ? Math.min(0, fromMm) - SAID_BEYOND_MM : fromMm - marginMm;
  const highMm = toMm + marginMm;
  if (xMm >= lowMm && xMm <= highMm) return null;
  const length = (mm: number) => formatLength(mm, unit);
  return {
    code: 'beyond-the-bar',
    what: 'Nothing was swept there, so no stop reading can be told for that place.',
    got: `${length(xMm)}, and the sweep went from ${length(fromMm)} to ${length(toMm)}`,
    remedy: 'Park at a place on the bar that was swept, or check the ends that were marked.',
  };
}
