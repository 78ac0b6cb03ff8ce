import type { Caution, DecisionRule, LengthUnit, Limit, PassName, Rises } from '@taptrue/protocol';

/** One place on the work and what the dial showed there. */
export interface SweepPoint {
  /** Position along the work, mm, positive to the operator's right. */
  xMm: number;
  /** What the dial showed, mm, before stylus correction and sense. */
  readingMm: number;
}

/** One direction of a sweep, its points in the order they were taken. */
export interface SweepPass {
  pass: PassName;
  points: readonly SweepPoint[];
}

/** Everything the truth is computed from. No clock, no I/O: the same input gives the same result bit for bit. */
export interface SweepInput {
  passes: readonly SweepPass[];
  /** Swept along X or Y: only the words change. */
  axis: 'x' | 'y';
  displayUnit: LengthUnit;
  /** null: the sense is not known; the line is then taken as "away" and no tap is given. */
  rises: Rises | null;
  /** True travel per shown travel: 1, a nudge factor, or the cosine of the stylus angle. */
  stylusFactor: number;
  targetSlope: number;
  /** Slope to tap to where the user aims off for tightening; the verdict stays with the target. */
  aimedSlope?: number;
  pivot: { xMm: number; acrossMm: number | null } | null;
  malletMm: number | null;
  /** Where the stylus stands while tapping, and what the dial shows there now (null: use the line). */
  parked: { xMm: number; readingMm: number | null } | null;
  limit: Limit | null;
  /** Length that the marks, the stations or the plan speak of, mm; null or left out: nobody spoke of one. */
  spokenLengthMm?: number | null;
  /** What happened while it was taken, or how; some of it makes the points no line of the bar. */
  noticed?: readonly Caution[];
  decisionRule: DecisionRule;
  /** What is known of the indicator beforehand; null: not known. */
  resolutionMm: number | null;
  permissibleErrorMm: number | null;
  repeatabilityMm: number | null;
  rangeMm: { lowMm: number; highMm: number } | null;
  /** Points are means of many readings (bins of a stream) or single readings (stations, a file). */
  pointsAre: 'single readings' | 'bin means';
}

/** A sweep that can give no line, in the user's words. */
export interface NoLine {
  code: 'too-few-points' | 'not-enough-travel' | 'not-a-number';
  what: string;
  got: string;
  remedy: string;
}
