import { type CircleFit, type CirclePoint, cosDeg, sinDeg } from './fit-circle.ts';

/** Waves a turn that are left after the first harmonic. */
export interface Lobes {
  count: number;
  amplitudeMm: number;
}

/** A wave is named where chance would show one as clear in one sweep of a hundred, all counts tried. */
const BY_CHANCE = 0.01;

/**
 * The clearest wave of two or more a turn in what is left, if there is one. k waves can be told from
 * places at even steps only below half their number. F test of its two figures: P(F > f) with 2 and v
 * degrees of freedom is (1 + 2 f / v)^(-v/2).
 */
export function findLobes(points: readonly CirclePoint[], fit: CircleFit): Lobes | null {
  const most = Math.min(Math.floor((fit.placesDeg.length - 1) / 2), 12);
  const freedom = fit.degreesOfFreedom - 2;
  if (most < 2 || freedom < 1) return null;
  let whole = 0;
  for (const residual of fit.residualsMm) whole += residual * residual;
  let best: (Lobes & { explained: number }) | null = null;
  for (let count = 2; count <= most; count += 1) {
    const wave = fitWave(points, fit.residualsMm, count);
    if (wave && (!best || wave.explained > best.explained)) best = wave;
  }
  if (!best) return null;
  const left = Math.max(whole - best.explained, 0);
  const f = best.explained / 2 / (left / freedom);
  const chance = left === 0 ? 0 : (1 + (2 * f) / freedom) ** (-freedom / 2);
  if (best.amplitudeMm < NO_WAVE_MM || chance * (most - 1) > BY_CHANCE) return null;
  return { count: best.count, amplitudeMm: best.amplitudeMm };
}

/** What the sums of the fit leave of nothing, mm. */
const NO_WAVE_MM = 1e-6;

function fitWave(points: readonly CirclePoint[], residuals: Float64Array, count: number) {
  let cc = 0;
  let cs = 0;
  let ss = 0;
  let cr = 0;
  let sr = 0;
  points.forEach(({ angleDeg }, index) => {
    const c = cosDeg(count * angleDeg);
    const s = sinDeg(count * angleDeg);
    const r = residuals[index]!;
    cc += c * c;
    cs += c * s;
    ss += s * s;
    cr += c * r;
    sr += s * r;
  });
  const determinant = cc * ss - cs * cs;
  if (determinant < 1e-9 * points.length ** 2) return null;
  const a = (ss * cr - cs * sr) / determinant;
  const b = (cc * sr - cs * cr) / determinant;
  return { count, amplitudeMm: Math.hypot(a, b), explained: a * cr + b * sr };
}
