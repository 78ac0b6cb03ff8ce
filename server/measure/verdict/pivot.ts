import {
  formatLength,
  type LengthUnit,
  radiansFromArcsec,
  type SweepResult,
} from '@taptrue/protocol';

/** A turn smaller than this many standard uncertainties of the slope difference tells nothing of the pivot; a larger one was made by something. */
export const LEAST_TURN_IN_U = 5;

export interface PivotEstimate {
  xMm: number;
  /** Standard uncertainty, mm. */
  uncertaintyMm: number;
}

export type LearnedPivot =
  | ({ ok: true; turnRad: number } & PivotEstimate)
  | { ok: false; why: string };

/** What the learning is checked against. */
export interface PivotBounds {
  viseLeftMm: number;
  viseRightMm: number;
  displayUnit: LengthUnit;
}

interface Covariance {
  slope: number;
  interceptMm2: number;
  crossMm: number;
}

/**
 * Variances of slope and intercept of one line. The fit's own are widened to the sweep's whole uncertainty
 * where that is larger (resolution below the scatter, hysteresis); with two stations all of it is spread
 * over the two ends. null: nothing is known of the uncertainty.
 */
function covarianceOf(result: SweepResult): Covariance | null {
  const arcsec = result.angleStandardUncertaintyArcsec;
  const u = arcsec === null ? null : radiansFromArcsec(arcsec) * (1 + result.slope * result.slope);
  const se = result.slopeStandardError;
  const interceptSe = result.interceptStandardErrorMm;
  const cross = result.slopeInterceptCovarianceMm;
  if (se !== null && se > 0 && interceptSe !== null && cross !== null) {
    const widened = u === null ? 1 : Math.max(1, (u / se) ** 2);
    return {
      slope: se * se * widened,
      interceptMm2: interceptSe * interceptSe * widened,
      crossMm: cross * widened,
    };
  }
  if (u === null || u === 0) return null;
  const midMm = (result.fromMm + result.toMm) / 2;
  const halfMm = result.lengthMm / 2;
  return {
    slope: u * u,
    interceptMm2: u * u * (halfMm * halfMm + midMm * midMm),
    crossMm: -midMm * u * u,
  };
}

/**
 * The true turning point of a tap, from the lines fitted before and after it on one indicator zero: where
 * they cross, x_p = -(a2 - a1) / (b2 - b1). Its uncertainty is carried through from both lines with their
 * covariances (JCGM 100:2008, 5.2.2). Refused, with the reason, where it would mislead.
 */
export function pivotFromTwoLines(
  before: SweepResult,
  after: SweepResult,
  bounds: PivotBounds,
): LearnedPivot {
  const first = covarianceOf(before);
  const second = covarianceOf(after);
  if (first === null || second === null) {
    return {
      ok: false,
      why: 'nothing is known of how well the two sweeps are, so neither is the place where their lines cross',
    };
  }
  const turn = after.slope - before.slope;
  const slopeVariance = first.slope + second.slope;
  if (Math.abs(turn) < LEAST_TURN_IN_U * Math.sqrt(slopeVariance)) {
    return { ok: false, why: 'the turn between the two sweeps was too small to tell its centre' };
  }
  const xMm = -(after.interceptMm - before.interceptMm) / turn;
  const lengthMm = Math.max(before.lengthMm, after.lengthMm);
  if (xMm < bounds.viseLeftMm - lengthMm || xMm > bounds.viseRightMm + lengthMm) {
    return {
      ok: false,
      why: `the lines cross at ${formatLength(xMm, bounds.displayUnit)}, more than a bar length beyond the vise: the indicator seems to have been zeroed or moved between the sweeps`,
    };
  }
  const variance =
    first.interceptMm2 +
    second.interceptMm2 +
    xMm * xMm * slopeVariance +
    2 * xMm * (first.crossMm + second.crossMm);
  return {
    ok: true,
    xMm,
    uncertaintyMm: Math.sqrt(Math.max(0, variance)) / Math.abs(turn),
    turnRad: Math.atan(after.slope) - Math.atan(before.slope),
  };
}

/** Two independent estimates of one pivot, weighted by inverse variance. An uncertainty of 0 wins outright. */
export function blendPivots(declared: PivotEstimate, learned: PivotEstimate): PivotEstimate {
  if (declared.uncertaintyMm === 0) return declared;
  if (learned.uncertaintyMm === 0) return learned;
  const declaredWeight = declared.uncertaintyMm ** -2;
  const learnedWeight = learned.uncertaintyMm ** -2;
  const weight = declaredWeight + learnedWeight;
  return {
    xMm: (declared.xMm * declaredWeight + learned.xMm * learnedWeight) / weight,
    uncertaintyMm: weight ** -0.5,
  };
}
