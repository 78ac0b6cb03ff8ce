import type { PassName } from '@taptrue/protocol';
import { fitLine, type LineFit, peakToValleyMm } from '../sweep/fit-line.ts';
import { independentPoints } from '../sweep/independent-points.ts';
import { minimumZone } from '../sweep/minimum-zone.ts';
import { type RobustLine, theilSen } from '../sweep/robust.ts';
import type { NoLine, SweepPass } from './sweep-input.ts';

/** One direction, fitted. */
export interface FittedPass {
  pass: PassName;
  line: LineFit;
  robust: RobustLine | null;
  xsMm: Float64Array;
  /** Heights of the surface, mm. */
  ysMm: Float64Array;
  /** Indices in order of position; equal positions in the order they came. */
  order: number[];
  residualsInOrderMm: Float64Array;
  straightnessLeastSquaresMm: number;
  straightnessMinimumZoneMm: number;
  independentPoints: number;
}

export type FittedOutcome = { ok: true; fitted: FittedPass } | { ok: false; noLine: NoLine };

/** Fits one direction; readings become heights by `surfacePerReading`. */
export function fitPass(pass: SweepPass, surfacePerReading: number): FittedOutcome {
  const xsMm = Float64Array.from(pass.points, (point) => point.xMm);
  const ysMm = Float64Array.from(pass.points, (point) => point.readingMm * surfacePerReading);
  const outcome = fitLine(xsMm, ysMm);
  if (!outcome.ok) return outcome;
  const line = outcome.line;
  const order = Array.from(xsMm.keys()).sort((a, b) => xsMm[a]! - xsMm[b]! || a - b);
  const residualsInOrderMm = Float64Array.from(order, (index) => line.residualsMm[index]!);
  return {
    ok: true,
    fitted: {
      pass: pass.pass,
      line,
      robust: theilSen(xsMm, ysMm),
      xsMm,
      ysMm,
      order,
      residualsInOrderMm,
      straightnessLeastSquaresMm: peakToValleyMm(residualsInOrderMm),
      straightnessMinimumZoneMm: minimumZone(xsMm, ysMm).widthMm,
      independentPoints: independentPoints(residualsInOrderMm),
    },
  };
}

/** The line of a whole sweep: of its one pass, or the mean of the lines out and back. */
export interface SweepLine {
  points: number;
  slope: number;
  slopeStandardError: number | null;
  interceptMm: number;
  interceptStandardErrorMm: number | null;
  slopeInterceptCovarianceMm: number | null;
  fromMm: number;
  toMm: number;
  lengthMm: number;
  residualStandardDeviationMm: number | null;
  straightnessLeastSquaresMm: number;
  straightnessMinimumZoneMm: number;
  robustSlope: number | null;
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Null as soon as one part is not known: absent is not zero. */
function allKnown(values: readonly (number | null)[]): number[] | null {
  return values.every((value) => value !== null) ? (values as number[]) : null;
}

/** Standard error of a mean of independent parts: sqrt(se1² + se2²) / 2 for two. */
function errorOfMean(errors: readonly (number | null)[]): number | null {
  const known = allKnown(errors);
  return known === null ? null : Math.hypot(...known) / known.length;
}

/** Joins one or two fitted directions. Straightness is that of the worse one. */
export function combinePasses(passes: readonly FittedPass[]): SweepLine {
  const lines = passes.map((pass) => pass.line);
  const fromMm = Math.min(...lines.map((line) => line.fromMm));
  const toMm = Math.max(...lines.map((line) => line.toMm));
  const points = lines.reduce((sum, line) => sum + line.points, 0);
  const freedom = points - 2 * lines.length;
  const squares = lines.reduce((sum, line) => sum + line.sumSquaresResidualMm2, 0);
  const covariances = allKnown(lines.map((line) => line.slopeInterceptCovarianceMm));
  const robust = allKnown(passes.map((pass) => pass.robust?.slope ?? null));
  return {
    points,
    slope: mean(lines.map((line) => line.slope)),
    slopeStandardError: errorOfMean(lines.map((line) => line.slopeStandardError)),
    interceptMm: mean(lines.map((line) => line.interceptMm)),
    interceptStandardErrorMm: errorOfMean(lines.map((line) => line.interceptStandardErrorMm)),
    slopeInterceptCovarianceMm: covariances ? mean(covariances) / covariances.length : null,
    fromMm,
    toMm,
    lengthMm: toMm - fromMm,
    residualStandardDeviationMm: freedom > 0 ? Math.sqrt(squares / freedom) : null,
    straightnessLeastSquaresMm: Math.max(...passes.map((p) => p.straightnessLeastSquaresMm)),
    straightnessMinimumZoneMm: Math.max(...passes.map((p) => p.straightnessMinimumZoneMm)),
    robustSlope: robust ? mean(robust) : null,
  };
}
