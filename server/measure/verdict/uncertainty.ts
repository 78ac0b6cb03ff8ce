import type { FittedPass } from './combine-passes.ts';
import { coverageFactor95, LARGE_DEGREES_OF_FREEDOM } from './student-t.ts';

/** What is known of the surface readings beforehand, mm (stylus factor already in them); null: not known. */
export interface KnownBeforehand {
  resolutionMm: number | null;
  permissibleErrorMm: number | null;
  repeatabilityMm: number | null;
}

/** One part of the standard uncertainty of the slope, dimensionless. degreesOfFreedom null: large. */
export interface UncertaintyPart {
  name: string;
  slope: number;
  degreesOfFreedom: number | null;
}

export interface SlopeUncertainty {
  parts: UncertaintyPart[];
  /** Standard uncertainty of the slope; null: two stations and nothing known beforehand. */
  standard: number | null;
  degreesOfFreedom: number | null;
  /** Expanded, 95 %, two-sided; null with `standard`. */
  expanded: number | null;
}

/**
 * The fit's own part for one pass: the plain standard error with n - 2 replaced by what the number of
 * independent points leaves (Santer et al. 2000).
 */
function fitPart(passes: readonly FittedPass[]): UncertaintyPart | null {
  const known = passes.filter((pass) => pass.line.slopeStandardError !== null);
  if (known.length < passes.length) return null;
  const errors = known.map((pass) => {
    const freedom = pass.independentPoints - 2;
    const plain = pass.line.slopeStandardError!;
    return { u: (plain * Math.sqrt((pass.line.points - 2) / freedom)) / known.length, freedom };
  });
  const slope = Math.hypot(...errors.map((error) => error.u));
  return {
    name: 'scatter about the line',
    slope,
    degreesOfFreedom: welchSatterthwaite(
      slope,
      errors.map((e) => [e.u, e.freedom] as const),
    ),
  };
}

/** Effective degrees of freedom of parts joined in quadrature (JCGM 100:2008, G.4.1). null: large. */
export function welchSatterthwaite(
  combined: number,
  parts: readonly (readonly [u: number, degreesOfFreedom: number | null])[],
): number | null {
  let sum = 0;
  for (const [u, freedom] of parts) if (freedom !== null) sum += u ** 4 / freedom;
  if (sum === 0) {
    const finite = parts.map(([, freedom]) => freedom).filter((freedom) => freedom !== null);
    return combined === 0 && finite.length > 0 ? Math.min(...finite) : null;
  }
  const effective = combined ** 4 / sum;
  return effective > LARGE_DEGREES_OF_FREEDOM ? null : effective;
}

/**
 * Everything that makes the slope uncertain, over the swept length L:
 * - scatter about the line, with the points that count as independent;
 * - resolution q, where the scatter is below q/2 and so does not show the rounding: two ends rounded to
 *   q, each uniform over q, give q / (sqrt(6) L);
 * - the indicator's permissible error E, uniform within ±E between the two ends: E / (sqrt(3) L);
 * - what this bench repeats to, s for one reading: sqrt(2) s / L, also where there is scatter to judge by,
 *   because the residuals of one sweep do not show how the next one would lie;
 * - hysteresis: the lines out and back lie uniformly about the truth, |b_out - b_back| / (2 sqrt(3)).
 */
export function slopeUncertainty(
  passes: readonly FittedPass[],
  lengthMm: number,
  residualStandardDeviationMm: number | null,
  known: KnownBeforehand,
): SlopeUncertainty {
  const parts: UncertaintyPart[] = [];
  const fit = fitPart(passes);
  if (fit) parts.push(fit);
  const add = (name: string, slope: number) => parts.push({ name, slope, degreesOfFreedom: null });

  const q = known.resolutionMm;
  const scatterHidesRounding = residualStandardDeviationMm !== null && fit !== null;
  if (q !== null && !(scatterHidesRounding && residualStandardDeviationMm >= q / 2)) {
    add('resolution', q / (Math.sqrt(6) * lengthMm));
  }
  if (known.permissibleErrorMm !== null) {
    add('permissible error', known.permissibleErrorMm / (Math.sqrt(3) * lengthMm));
  }
  if (known.repeatabilityMm !== null) {
    add('repeatability', (Math.SQRT2 * known.repeatabilityMm) / lengthMm);
  }
  const [out, back] = passes;
  if (out && back && parts.length > 0) {
    add(
      'difference between directions',
      Math.abs(out.line.slope - back.line.slope) / (2 * Math.sqrt(3)),
    );
  }

  if (parts.length === 0) return { parts, standard: null, degreesOfFreedom: null, expanded: null };
  const standard = Math.hypot(...parts.map((part) => part.slope));
  const degreesOfFreedom = welchSatterthwaite(
    standard,
    parts.map((part) => [part.slope, part.degreesOfFreedom] as const),
  );
  return {
    parts,
    standard,
    degreesOfFreedom,
    expanded: coverageFactor95(degreesOfFreedom) * standard,
  };
}
