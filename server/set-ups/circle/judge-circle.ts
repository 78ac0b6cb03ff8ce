import { type Fault, formatLength, type LengthUnit, type Verdict } from '@taptrue/protocol';
import { independentPoints } from '../../measure/sweep/independent-points.ts';
import { coverageFactor95, studentT } from '../../measure/verdict/student-t.ts';
import { welchSatterthwaite } from '../../measure/verdict/uncertainty.ts';
import { circleCautions } from './circle-cautions.ts';
import {
  type CircleInput,
  type CircleResult,
  LEAST_PLACES_FOR_VERDICT,
  WIDEST_GAP_DEG,
} from './circle-input.ts';
import { correctCircle } from './correct-circle.ts';
import { type CircleFit, fitCircle } from './fit-circle.ts';
import { findLobes } from './lobes.ts';
import { needleDoubt } from './needle-doubts.ts';
import { roundDeg, widestGapDeg } from './places.ts';

export type JudgedCircle = { ok: true; result: CircleResult } | { ok: false; fault: Fault };

interface AmplitudeUncertainty {
  standardMm: number | null;
  degreesOfFreedom: number | null;
}

/**
 * Standard uncertainty of the amplitude: scatter in the worst direction with n - 3 degrees of freedom;
 * resolution q where the scatter is below q/2 and hides the rounding; permissible error E within which two
 * opposite readings differ (E / sqrt 3 of the whole); repeatability s (sqrt 2 s of the whole), because the
 * residuals of one turn do not show how the next would lie.
 */
function amplitudeUncertainty(fit: CircleFit, input: CircleInput): AmplitudeUncertainty {
  const parts: [u: number, degreesOfFreedom: number | null][] = [];
  const scatter = fit.residualStandardDeviationMm;
  if (scatter !== null) {
    const freedom = independentFreedom(fit, input);
    const inflated = scatter * Math.sqrt(fit.degreesOfFreedom / freedom);
    parts.push([inflated * fit.worstFactor, freedom]);
  }
  const q = input.resolutionMm;
  if (q !== null && !(scatter !== null && scatter >= q / 2)) {
    parts.push([(q / Math.sqrt(12)) * fit.worstFactor, null]);
  }
  const e = input.permissibleErrorMm;
  if (e !== null) parts.push([e / (2 * Math.sqrt(3)), null]);
  if (input.repeatabilityMm !== null) parts.push([input.repeatabilityMm / Math.SQRT2, null]);
  if (parts.length === 0) return { standardMm: null, degreesOfFreedom: null };
  const standardMm = Math.hypot(...parts.map(([u]) => u));
  return { standardMm, degreesOfFreedom: welchSatterthwaite(standardMm, parts) };
}

/** More are no longer keyed at places but streamed, and neighbours of a stream are not independent. */
const MOST_KEYED = 36;

/** Degrees of freedom that independent points leave: n - 3 of keyed ones, fewer of a stream. */
function independentFreedom(fit: CircleFit, input: CircleInput): number {
  if (fit.points <= MOST_KEYED) return fit.degreesOfFreedom;
  const inOrder = [...fit.residualsMm]
    .map((residual, index) => ({ residual, deg: roundDeg(input.points[index]!.angleDeg) }))
    .sort((a, b) => a.deg - b.deg)
    .map(({ residual }) => residual);
  return Math.max(1, independentPoints(inOrder) - 3);
}

/** A figure that equals the limit to rounding is inside it. */
const ROUNDING = 1e-9;

/** Guarded one-sidedly by Student's t at 95 %; never with fewer than seven places or a doubtful needle. */
function verdictOf(
  totalMm: number,
  uncertainty: AmplitudeUncertainty,
  placesDeg: readonly number[],
  limitMm: number | null,
  isDoubtful: boolean,
): Verdict | null {
  if (limitMm === null) return null;
  const tooLittle =
    placesDeg.length < LEAST_PLACES_FOR_VERDICT ||
    widestGapDeg(placesDeg) > WIDEST_GAP_DEG + ROUNDING;
  if (isDoubtful || tooLittle || uncertainty.standardMm === null) return 'too close to call';
  const guardMm = guardOf(uncertainty);
  const edgeMm = limitMm * (1 + ROUNDING);
  if (totalMm + guardMm <= edgeMm) return 'true';
  return totalMm - guardMm > edgeMm ? 'not true' : 'too close to call';
}

function guardOf({ standardMm, degreesOfFreedom }: AmplitudeUncertainty): number {
  return 2 * (standardMm ?? 0) * studentT(0.95, degreesOfFreedom);
}

/** Everything one circle says. Pure: the same input gives the same result bit for bit. */
export function judgeCircle(input: CircleInput): JudgedCircle {
  const fitted = fitCircle(input.points);
  if (!fitted.ok) return fitted;
  const { fit } = fitted;
  const { setUp } = input;
  const uncertainty = amplitudeUncertainty(fit, input);
  const expandedMm =
    uncertainty.standardMm === null
      ? null
      : coverageFactor95(uncertainty.degreesOfFreedom) * uncertainty.standardMm;
  const lobes = findLobes(input.points, fit);
  const totalMm = 2 * fit.amplitudeMm;
  const face = input.face ?? setUp.circle.usualFace;
  const correction = correctCircle(
    setUp,
    fit,
    {
      rises: input.rises ?? 'toward',
      face,
      turns: input.turns ?? 'spindle',
      jawOneDeg: input.jawOneDeg ?? 0,
    },
    (expandedMm ?? 0) * setUp.circle.perAmplitude + NOTHING_MM,
    input.displayUnit,
  );
  const places = fit.placesDeg.length;
  const doubt = needleDoubt(input.points);
  const verdict = verdictOf(totalMm, uncertainty, fit.placesDeg, input.limitMm, doubt !== null);
  const outOfRoundMm = places > 3 ? peakToValley(fit.residualsMm) : null;
  const result = {
    setUp: setUp.name,
    points: fit.points,
    places,
    diameterMm: input.diameterMm,
    meanMm: fit.meanMm,
    amplitudeMm: fit.amplitudeMm,
    towardDeg: fit.towardDeg,
    amplitudeExpandedMm: expandedMm,
    amplitudeStandardMm: uncertainty.standardMm,
    degreesOfFreedom: uncertainty.degreesOfFreedom,
    totalMm,
    tiltRad: setUp.circle.corrects === 'tilt' ? Math.atan(totalMm / input.diameterMm) : null,
    outOfRoundMm,
    lobes,
    limitMm: input.limitMm,
    correction,
    verdict,
  };
  return {
    ok: true,
    result: {
      ...result,
      cautions: circleCautions(input, fit, {
        doubt,
        lobes,
        totalMm,
        knowsUncertainty: expandedMm !== null,
      }),
      sentence: sentenceOf(result, guardOf(uncertainty), input.displayUnit),
    },
  };
}

/** What the sums leave of nothing, mm. */
const NOTHING_MM = 1e-9;

function peakToValley(residuals: Float64Array): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const residual of residuals) {
    low = Math.min(low, residual);
    high = Math.max(high, residual);
  }
  return high - low;
}

function sentenceOf(
  result: Omit<CircleResult, 'cautions' | 'sentence'>,
  guardMm: number,
  unit: LengthUnit,
): string {
  const total = formatLength(result.totalMm, unit);
  const limited =
    result.limitMm === null
      ? ''
      : `; limit ${formatLength(result.limitMm, unit, { decimals: unit === 'in' ? 5 : 4 })}`;
  const over =
    result.tiltRad === null
      ? 'of the needle in a turn'
      : `over ${formatLength(result.diameterMm, unit)}`;
  if (result.verdict === 'true') {
    const within = formatLength(result.totalMm + guardMm, unit, {
      decimals: unit === 'in' ? 5 : 4,
    });
    return `True within ${within} ${over}${limited}.`;
  }
  const move = result.correction ? ` ${result.correction.words}` : '';
  if (result.verdict === 'too close to call') {
    return `Too close to call: ${total} ± ${formatLength(guardMm, unit)} ${over}${limited}.${move}`;
  }
  const name = result.verdict === 'not true' ? 'Not true' : 'Out of true';
  return `${name}: ${total} ${over}${limited}.${move}`;
}
