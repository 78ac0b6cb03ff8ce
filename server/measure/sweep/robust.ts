import { median, medianInPlace } from './median.ts';

/**
 * Above this many points every k-th is taken, evenly in order of position: the slopes of 256 points are
 * 32,640, those of 10,000 would be 50 million. The cross-check loses nothing that matters by it.
 */
export const MOST_POINTS_FOR_ROBUST_SLOPE = 256;

/** Turns a median absolute deviation into the standard deviation of normal noise: 1 / 0.67449. */
export const NORMAL_PER_MAD = 1.4826;

/**
 * How far from the robust line a point must lie to be named, in robust standard deviations. Five by
 * itself names one in a million normal readings; the share added for few points is there because the
 * median of a handful of residuals is often far too small. On clean normal lines the two together named
 * a point in 0.3 % of sweeps of 10 points and 0.1 % of longer ones (seeded, thousands a size).
 */
export const OUTLIER_MULTIPLE = 5;
const OUTLIER_MULTIPLE_FEW_POINTS = 80;

/** With fewer points no robust line can tell which of them is the odd one. */
export const LEAST_POINTS_FOR_OUTLIERS = 8;

/** Readings in whole counts lie up to half a count off without any noise: the scale is never taken smaller. */
const LEAST_SCALE_IN_COUNTS = 0.5;

/** A nanometre: points exactly on a line leave only the last digit of the arithmetic, which is no scale. */
const LEAST_SCALE_MM = 1e-6;

export interface RobustLine {
  slope: number;
  /** Median of y - slope·x over the points used: the "joint" intercept, mm. */
  interceptMm: number;
  /** Median of y less slope times the median of x: the "separate" intercept, mm. */
  separateInterceptMm: number;
  pointsUsed: number;
}

/**
 * Theil-Sen: the median of the slopes of all pairs of points (Sen 1968, J. Am. Stat. Assoc. 63,
 * 1379-1389). Up to 29 % of wild points do not move it far. Two conventions for the intercept are in use
 * and both are given; the slope is the same. null where no two points differ in position.
 */
export function theilSen(xsMm: ArrayLike<number>, ysMm: ArrayLike<number>): RobustLine | null {
  const order = evenlyChosen(xsMm);
  const count = order.length;
  const slopes = new Float64Array((count * (count - 1)) / 2);
  let pairs = 0;
  for (let i = 0; i < count; i += 1) {
    const xi = xsMm[order[i]!]!;
    const yi = ysMm[order[i]!]!;
    for (let j = i + 1; j < count; j += 1) {
      const dx = xsMm[order[j]!]! - xi;
      if (dx === 0) continue;
      slopes[pairs] = (ysMm[order[j]!]! - yi) / dx;
      pairs += 1;
    }
  }
  if (pairs === 0) return null;
  const slope = medianInPlace(slopes.subarray(0, pairs));
  const heights = new Float64Array(count);
  for (let i = 0; i < count; i += 1) heights[i] = ysMm[order[i]!]! - slope * xsMm[order[i]!]!;
  return {
    slope,
    interceptMm: medianInPlace(heights),
    separateInterceptMm:
      median(order.map((index) => ysMm[index]!)) -
      slope * median(order.map((index) => xsMm[index]!)),
    pointsUsed: count,
  };
}

/** Indices in order of position, thinned evenly to the limit; first and last are always kept. */
function evenlyChosen(xsMm: ArrayLike<number>): number[] {
  const order = Array.from({ length: xsMm.length }, (_, index) => index);
  if (order.length <= MOST_POINTS_FOR_ROBUST_SLOPE) return order;
  order.sort((a, b) => xsMm[a]! - xsMm[b]! || a - b);
  const stride = (order.length - 1) / (MOST_POINTS_FOR_ROBUST_SLOPE - 1);
  return Array.from(
    { length: MOST_POINTS_FOR_ROBUST_SLOPE },
    (_, place) => order[Math.round(place * stride)]!,
  );
}

/**
 * Indices of the points that lie off the robust line by more than the named multiple of the robust
 * scale. They are named to the user and stay in the fit. `countMm`: one count of the indicator, 0 if unknown.
 */
export function outliers(
  xsMm: ArrayLike<number>,
  ysMm: ArrayLike<number>,
  line: RobustLine,
  countMm: number,
): number[] {
  const count = xsMm.length;
  if (count < LEAST_POINTS_FOR_OUTLIERS) return [];
  const distances = new Float64Array(count);
  for (let index = 0; index < count; index += 1) {
    distances[index] = Math.abs(ysMm[index]! - line.interceptMm - line.slope * xsMm[index]!);
  }
  const multiple = OUTLIER_MULTIPLE + OUTLIER_MULTIPLE_FEW_POINTS / count;
  const scaleMm = Math.max(
    NORMAL_PER_MAD * median(distances),
    LEAST_SCALE_IN_COUNTS * countMm,
    LEAST_SCALE_MM,
  );
  const named: number[] = [];
  for (let index = 0; index < count; index += 1)
    if (distances[index]! > multiple * scaleMm) named.push(index);
  return named;
}
