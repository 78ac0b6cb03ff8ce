import type { Fault } from '@taptrue/protocol';
import { placesOf, widestGapDeg } from './places.ts';

/** One place round the sweep and what the dial showed there. */
export interface CirclePoint {
  angleDeg: number;
  readingMm: number;
}

/** First harmonic r = mean + c cos + s sin by least squares, every reading with the same weight. */
export interface CircleFit {
  points: number;
  /** Places that differ, degrees, ascending. */
  placesDeg: number[];
  meanMm: number;
  cosMm: number;
  sinMm: number;
  amplitudeMm: number;
  /** Where the reading is highest, degrees in [0, 360). */
  towardDeg: number;
  /** Reading less fit, mm, in the order of the points. */
  residualsMm: Float64Array;
  /** n - 3 degrees of freedom; null with three readings, which leave none. */
  residualStandardDeviationMm: number | null;
  degreesOfFreedom: number;
  /**
   * Standard uncertainty of an amplitude in its worst direction, for readings of standard deviation 1:
   * the direction is found from the same readings, so the better one may not be claimed.
   */
  worstFactor: number;
}

export type CircleOutcome = { ok: true; fit: CircleFit } | { ok: false; fault: Fault };

const RADIANS = Math.PI / 180;

/** Cosine of degrees, exact at the quarters. */
export function cosDeg(deg: number): number {
  const quarter = ((deg % 360) + 360) % 360;
  if (quarter === 90 || quarter === 270) return 0;
  if (quarter === 180) return -1;
  return Math.cos(quarter * RADIANS);
}

/** Sine of degrees, exact at the quarters. */
export function sinDeg(deg: number): number {
  return cosDeg(deg - 90);
}

function reasonForNone(points: readonly CirclePoint[], places: readonly number[]): Fault | null {
  if (places.length < 3) {
    return {
      code: 'too-few-places-round',
      what: 'Round a circle, readings at three places at least are needed.',
      got: `${points.length} ${points.length === 1 ? 'reading' : 'readings'} at ${places.length} ${places.length === 1 ? 'place' : 'places'}`,
      remedy: 'Turn on and read at more places, even steps all the way round; eight are good.',
    };
  }
  const gapDeg = widestGapDeg(places);
  if (gapDeg >= 180 - 1e-9) {
    return {
      code: 'places-in-one-half',
      what: 'All places lie in one half of the circle, so the other half would be guessed.',
      got: `nothing over ${gapDeg.toFixed(0)} degrees`,
      remedy: 'Read at places in the other half too, even steps all the way round.',
    };
  }
  return null;
}

/** Fits the first harmonic. Refuses fewer than three places, and places that all lie in one half. */
export function fitCircle(points: readonly CirclePoint[]): CircleOutcome {
  const placesDeg = placesOf(points.map(({ angleDeg }) => angleDeg));
  const fault = reasonForNone(points, placesDeg);
  return fault ? { ok: false, fault } : { ok: true, fit: leastSquares(points, placesDeg) };
}

/** The fit itself, whatever the places are worth; at least three of them, or nothing comes of it. */
export function leastSquares(
  points: readonly CirclePoint[],
  placesDeg: number[] = placesOf(points.map(({ angleDeg }) => angleDeg)),
): CircleFit {
  const n = points.length;
  const cos = points.map(({ angleDeg }) => cosDeg(angleDeg));
  const sin = points.map(({ angleDeg }) => sinDeg(angleDeg));
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / n;
  const meanCos = mean(cos);
  const meanSin = mean(sin);
  // By way of the first reading: readings near each other and far from zero keep their digits.
  const first = points[0]!.readingMm;
  const above = points.map(({ readingMm }) => readingMm - first);
  const meanAbove = mean(above);

  let cc = 0;
  let cs = 0;
  let ss = 0;
  let cr = 0;
  let sr = 0;
  for (let index = 0; index < n; index += 1) {
    const dc = cos[index]! - meanCos;
    const ds = sin[index]! - meanSin;
    const dr = above[index]! - meanAbove;
    cc += dc * dc;
    cs += dc * ds;
    ss += ds * ds;
    cr += dc * dr;
    sr += ds * dr;
  }
  const determinant = cc * ss - cs * cs;
  const cosMm = (ss * cr - cs * sr) / determinant;
  const sinMm = (cc * sr - cs * cr) / determinant;
  const aboveMean = meanAbove - cosMm * meanCos - sinMm * meanSin;

  const residualsMm = new Float64Array(n);
  let sumSquares = 0;
  for (let index = 0; index < n; index += 1) {
    const residual = above[index]! - aboveMean - cosMm * cos[index]! - sinMm * sin[index]!;
    residualsMm[index] = residual;
    sumSquares += residual * residual;
  }
  const degreesOfFreedom = n - 3;
  // The smaller eigenvalue of what the angles tell of cosine and sine.
  const least = (cc + ss) / 2 - Math.hypot((cc - ss) / 2, cs);
  const towardDeg = Math.atan2(sinMm, cosMm) / RADIANS;
  return {
    points: n,
    placesDeg,
    meanMm: first + aboveMean,
    cosMm,
    sinMm,
    amplitudeMm: Math.hypot(cosMm, sinMm),
    towardDeg: towardDeg < 0 ? towardDeg + 360 : towardDeg,
    residualsMm,
    residualStandardDeviationMm:
      degreesOfFreedom > 0 ? Math.sqrt(sumSquares / degreesOfFreedom) : null,
    degreesOfFreedom,
    worstFactor: 1 / Math.sqrt(least),
  };
}
