/** What one position readout is: how it counts as the stylus goes right along the work. */
export interface ReadoutBuild {
  counts: 1 | -1;
  /** Smallest step, mm. */
  resolutionMm: number;
  /** What it shows with the stylus at the left end of the bar, mm. */
  leftEndCountMm: number;
}

/** The number on the readout with the stylus at x, mm. */
export function readoutMm(build: ReadoutBuild, xMm: number): number {
  const countMm = build.leftEndCountMm + build.counts * xMm;
  return Math.round(countMm / build.resolutionMm) * build.resolutionMm;
}
