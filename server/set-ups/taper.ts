/** A foot, mm. */
const FOOT_MM = 304.8;

/** Slope of the side of a cone whose diameter changes by this much in a foot of length. */
export function slopeOfTaperPerFoot(taperPerFootMm: number): number {
  return taperPerFootMm / (2 * FOOT_MM);
}

/** Change of the diameter over a length, when the side lies at this slope to the travel: twice it. */
export function taperOnDiameterMm(slope: number, lengthMm: number): number {
  return 2 * slope * lengthMm;
}

/** Change of the diameter in a foot, mm. */
export function taperPerFootMm(slope: number): number {
  return taperOnDiameterMm(slope, FOOT_MM);
}

/** How far the tailstock is set over for a taper per foot on work of this whole length, mm. */
export function setOverMm(taperPerFootMmGiven: number, wholeLengthMm: number): number {
  return slopeOfTaperPerFoot(taperPerFootMmGiven) * wholeLengthMm;
}
