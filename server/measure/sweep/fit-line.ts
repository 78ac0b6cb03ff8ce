import type { NoLine } from '../verdict/sweep-input.ts';

/**
 * Below this a "sweep" is the readout trembling in one place: a position readout of 0.005 mm counts
 * twenty of them here, and no indicator shows an angle over so short a way.
 */
export const LEAST_TRAVEL_MM = 0.1;

/** A straight line by ordinary least squares, every point with the same weight. */
export interface LineFit {
  points: number;
  slope: number;
  /** Height at x = 0, mm. */
  interceptMm: number;
  meanXMm: number;
  meanYMm: number;
  fromMm: number;
  toMm: number;
  /** Sum of squared distances from the mean position, mm². */
  sumSquaresXMm2: number;
  /** Sum of squared residuals, mm². */
  sumSquaresResidualMm2: number;
  /** Plain standard errors with n - 2 degrees of freedom; null with two points, which leave none. */
  slopeStandardError: number | null;
  interceptStandardErrorMm: number | null;
  slopeInterceptCovarianceMm: number | null;
  residualStandardDeviationMm: number | null;
  /** Point less line, mm, in the order the points came. */
  residualsMm: Float64Array;
}

export type FitOutcome = { ok: true; line: LineFit } | { ok: false; noLine: NoLine };

/** Says in words why positions and heights can give no line; null: they can. */
function reasonForNoLine(xsMm: ArrayLike<number>, ysMm: ArrayLike<number>): NoLine | null {
  for (let index = 0; index < xsMm.length; index += 1) {
    if (Number.isFinite(xsMm[index]) && Number.isFinite(ysMm[index])) continue;
    return {
      code: 'not-a-number',
      what: `Point ${index + 1} is not a number, so no line was fitted.`,
      got: `position ${xsMm[index]}, reading ${ysMm[index]}`,
      remedy: 'Strike that point out or take it again.',
    };
  }
  if (xsMm.length < 2) {
    return {
      code: 'too-few-points',
      what: 'A line needs readings at two positions at least.',
      got: xsMm.length === 1 ? 'one point' : 'no point',
      remedy: 'Take a reading at another place along the bar, as far away as it allows.',
    };
  }
  return null;
}

/**
 * Least squares of ys on xs. Means are subtracted before anything is squared: from raw sums a clock as
 * large as epoch seconds lost every digit of the slope, centred it kept 3e-8 or better. Relative error of
 * the slope is then some 1e-15 on exact points. Source of the formulas: JCGM 100:2008 (GUM), H.3.
 */
export function fitLine(xsMm: ArrayLike<number>, ysMm: ArrayLike<number>): FitOutcome {
  const reason = reasonForNoLine(xsMm, ysMm);
  if (reason) return { ok: false, noLine: reason };
  const points = xsMm.length;

  let fromMm = Number.POSITIVE_INFINITY;
  let toMm = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < points; index += 1) {
    fromMm = Math.min(fromMm, xsMm[index]!);
    toMm = Math.max(toMm, xsMm[index]!);
  }
  if (toMm - fromMm < LEAST_TRAVEL_MM) {
    return {
      ok: false,
      noLine: {
        code: 'not-enough-travel',
        what: 'All readings were taken at one place, so there is no line yet.',
        got: `${points} points within ${(toMm - fromMm).toFixed(3)} mm`,
        remedy: 'Move the table so that the stylus stands at another place along the bar.',
      },
    };
  }

  const meanXMm = centredMean(xsMm);
  const meanYMm = centredMean(ysMm);
  let sumSquaresXMm2 = 0;
  let sumProductsMm2 = 0;
  for (let index = 0; index < points; index += 1) {
    const dx = xsMm[index]! - meanXMm;
    sumSquaresXMm2 += dx * dx;
    sumProductsMm2 += dx * (ysMm[index]! - meanYMm);
  }
  const slope = sumProductsMm2 / sumSquaresXMm2;

  const residualsMm = new Float64Array(points);
  let sumSquaresResidualMm2 = 0;
  for (let index = 0; index < points; index += 1) {
    const residual = ysMm[index]! - meanYMm - slope * (xsMm[index]! - meanXMm);
    residualsMm[index] = residual;
    sumSquaresResidualMm2 += residual * residual;
  }

  const variance = points > 2 ? sumSquaresResidualMm2 / (points - 2) : null;
  const slopeVariance = variance === null ? null : variance / sumSquaresXMm2;
  return {
    ok: true,
    line: {
      points,
      slope,
      interceptMm: meanYMm - slope * meanXMm,
      meanXMm,
      meanYMm,
      fromMm,
      toMm,
      sumSquaresXMm2,
      sumSquaresResidualMm2,
      slopeStandardError: slopeVariance === null ? null : Math.sqrt(slopeVariance),
      interceptStandardErrorMm:
        variance === null || slopeVariance === null
          ? null
          : Math.sqrt(variance / points + meanXMm * meanXMm * slopeVariance),
      slopeInterceptCovarianceMm: slopeVariance === null ? null : -meanXMm * slopeVariance,
      residualStandardDeviationMm: variance === null ? null : Math.sqrt(variance),
      residualsMm,
    },
  };
}

/** Mean by way of the first value: readings near each other and far from zero keep their digits. */
function centredMean(values: ArrayLike<number>): number {
  const first = values[0]!;
  let sum = 0;
  for (let index = 0; index < values.length; index += 1) sum += values[index]! - first;
  return first + sum / values.length;
}

/** Height of the line at x, mm. */
export function heightAt(line: Pick<LineFit, 'meanXMm' | 'meanYMm' | 'slope'>, xMm: number) {
  return line.meanYMm + line.slope * (xMm - line.meanXMm);
}

/** Standard uncertainty of the line's height at x for readings of standard deviation 1. */
export function leverage(line: LineFit, xMm: number): number {
  const dx = xMm - line.meanXMm;
  return Math.sqrt(1 / line.points + (dx * dx) / line.sumSquaresXMm2);
}

/**
 * Standard uncertainty of the line's height at x, mm; null where two points leave no residual. About the
 * mean position slope and height are uncorrelated, so the covariance with the intercept is in it.
 */
export function uncertaintyAt(line: LineFit, xMm: number): number | null {
  const s = line.residualStandardDeviationMm;
  return s === null ? null : s * leverage(line, xMm);
}

/** Largest less smallest residual, mm. */
export function peakToValleyMm(residualsMm: ArrayLike<number>): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < residualsMm.length; index += 1) {
    low = Math.min(low, residualsMm[index]!);
    high = Math.max(high, residualsMm[index]!);
  }
  return high - low;
}
