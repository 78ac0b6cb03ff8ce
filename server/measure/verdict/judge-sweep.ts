import {
  arcsecFromRadians,
  type Caution,
  type Fault,
  type PassResult,
  type SweepResult,
} from '@taptrue/protocol';
import { aimedOffRad } from './aim-off.ts';
import { combinePasses, type FittedPass, fitPass, type SweepLine } from './combine-passes.ts';
import { diagnose } from './diagnose.ts';
import { partOfLength } from './part-of-length.ts';
import { surfacePerReading } from './surface.ts';
import type { NoLine, SweepInput } from './sweep-input.ts';
import { isCoarseTap, malletAtPivot, parkedTooNear, tapAdvice, tapToReadingMm } from './tap.ts';
import { type SlopeUncertainty, slopeUncertainty } from './uncertainty.ts';
import { guardFactor, judge, limitRad } from './verdict.ts';
import { resultSentence } from './words.ts';

/**
 * `tapRefused` says why no tap was given although one was asked for (stylus or mallet too near the
 * pivot); the result then has no tap, and carries the same words as a caution.
 */
export type JudgedSweep =
  | { ok: true; result: SweepResult; tapRefused: Fault | null }
  | { ok: false; noLine: NoLine };

/**
 * Everything one sweep says: line, uncertainty, verdict, tap and cautions. Pure: the same input gives the
 * same result bit for bit, live, from a file, or from a record. Cheap enough for ten times a second.
 */
export function judgeSweep(input: SweepInput): JudgedSweep {
  if (input.passes.length === 0) return { ok: false, noLine: NOTHING_TAKEN };
  const fittedPasses: FittedPass[] = [];
  for (const pass of input.passes) {
    const outcome = fitPass(pass, surfacePerReading(input.rises, input.stylusFactor));
    if (!outcome.ok) return outcome;
    fittedPasses.push(outcome.fitted);
  }
  const line = combinePasses(fittedPasses);
  const onSurface = (mm: number | null) => (mm === null ? null : mm * input.stylusFactor);
  const uncertainty = slopeUncertainty(
    fittedPasses,
    line.lengthMm,
    line.residualStandardDeviationMm,
    {
      resolutionMm: onSurface(input.resolutionMm),
      permissibleErrorMm: onSurface(input.permissibleErrorMm),
      repeatabilityMm: onSurface(input.repeatabilityMm),
    },
  );
  const limit = input.limit === null ? null : limitRad(input.limit, line.lengthMm);
  const { cautions, directions } = diagnose(input, fittedPasses, line, limit);
  if (scatterSaysNothing(input, line)) cautions.push(NO_SCATTER);

  const angleRad = Math.atan(line.slope);
  const deviationRad = angleRad - Math.atan(input.targetSlope);
  // d atan(b) / db: an uncertainty of the slope as one of the angle.
  const angleUncertainty = (slope: number | null) =>
    slope === null ? null : slope / (1 + line.slope * line.slope);
  const standardRad = angleUncertainty(uncertainty.standard);
  const expandedRad = angleUncertainty(uncertainty.expanded);

  const judged =
    limit === null
      ? null
      : judge(
          deviationRad,
          hasScatterToJudgeBy(input, line) ? standardRad : null,
          limit,
          input.decisionRule,
          uncertainty.degreesOfFreedom,
        );
  if (judged) cautions.push(...judged.cautions);
  if (judged?.verdict === 'true' && input.decisionRule === 'guarded' && limit !== null) {
    const reachRad = Math.abs(deviationRad) + (expandedRad ?? 0);
    if (reachRad > limit) cautions.push(GUARD_IS_ONE_SIDED);
  }

  const partly = partOfLength(input, line.lengthMm);
  if (partly) cautions.push(partly);
  const noticed = input.noticed ?? [];
  const isNoLine = !isLineOfTheBar([...cautions, ...noticed]);
  const isDoubtful = partly || isNoLine || noticed.some(({ code }) => NEVER_TRUE.has(code));
  const verdict =
    isDoubtful && judged?.verdict === 'true' ? 'too close to call' : (judged?.verdict ?? null);

  const tap = isNoLine ? NO_TAP : findTap(input, line, limit);
  cautions.push(...tap.cautions, ...noticed);

  const result: SweepResult = {
    points: line.points,
    slope: line.slope,
    slopeStandardError: line.slopeStandardError,
    interceptMm: line.interceptMm,
    interceptStandardErrorMm: line.interceptStandardErrorMm,
    slopeInterceptCovarianceMm: line.slopeInterceptCovarianceMm,
    fromMm: line.fromMm,
    toMm: line.toMm,
    lengthMm: line.lengthMm,
    residualStandardDeviationMm: line.residualStandardDeviationMm,
    straightnessLeastSquaresMm: line.straightnessLeastSquaresMm,
    straightnessMinimumZoneMm: line.straightnessMinimumZoneMm,
    outOfTrueRad: angleRad,
    outOfTrueArcsec: arcsecFromRadians(angleRad),
    outOfTrueArcsecExpanded: expandedRad === null ? null : arcsecFromRadians(expandedRad),
    deviationArcsec: arcsecFromRadians(deviationRad),
    angleStandardUncertaintyArcsec: standardRad === null ? null : arcsecFromRadians(standardRad),
    guardArcsec:
      standardRad === null || !hasScatterToJudgeBy(input, line)
        ? null
        : arcsecFromRadians(guardFactor(uncertainty.degreesOfFreedom) * standardRad),
    degreesOfFreedom: uncertainty.degreesOfFreedom,
    uncertaintyParts: partsInArcsec(uncertainty, line.slope),
    endToEndMm: line.slope * line.lengthMm,
    endToEndExpandedMm: uncertainty.expanded === null ? null : uncertainty.expanded * line.lengthMm,
    robustSlope: line.robustSlope,
    passes: fittedPasses.map(passResult),
    gapMm: directions?.gapMm ?? null,
    closureMm: directions?.closureMm ?? null,
    tap: tap.advice,
    tapToReadingMm: tap.toReadingMm,
    tapToAtMm: tap.toReadingMm === null ? null : (input.parked?.xMm ?? null),
    limitArcsec: limit === null ? null : arcsecFromRadians(limit),
    decisionRule: input.decisionRule,
    verdict,
    cautions,
    sentence: resultSentence({
      displayUnit: input.displayUnit,
      axis: input.axis,
      senseKnown: input.rises !== null,
      lengthMm: line.lengthMm,
      deviationMm: (line.slope - input.targetSlope) * line.lengthMm,
      targetIsSloped: input.targetSlope !== 0,
      guardMm:
        uncertainty.standard === null || !hasScatterToJudgeBy(input, line)
          ? null
          : guardFactor(uncertainty.degreesOfFreedom) * uncertainty.standard * line.lengthMm,
      guarded: input.decisionRule === 'guarded',
      limit: input.limit,
      verdict,
      tap: tap.advice,
      tapToReadingMm: tap.toReadingMm,
      aimedOffRad: aimedOffRad(input.targetSlope, input.aimedSlope),
    }),
  };
  return { ok: true, result, tapRefused: tap.refused };
}

const NOTHING_TAKEN: NoLine = {
  code: 'too-few-points',
  what: 'Nothing has been taken yet.',
  got: 'no point',
  remedy: 'Take readings at two places along the bar at least.',
};

/** Scatter below a millionth of a millimetre is no scatter: the readings lie exactly on a line. */
const NO_SCATTER_MM = 1e-6;

const NO_SCATTER: Caution = {
  code: 'no-scatter',
  text: 'The points lie exactly on a line and the resolution of the indicator is not known, so the uncertainty shown is too small. Give the resolution.',
};

function scatterSaysNothing(input: SweepInput, line: SweepLine): boolean {
  const scatter = line.residualStandardDeviationMm;
  return input.resolutionMm === null && scatter !== null && scatter < NO_SCATTER_MM;
}

/**
 * Two stations show no scatter. What the digit alone says covered the truth in 5 to 68 of 100 sweeps, so
 * nothing is called by it: only what this bench is known to repeat to stands in for the scatter.
 */
function hasScatterToJudgeBy(input: SweepInput, line: SweepLine): boolean {
  return line.residualStandardDeviationMm !== null || input.repeatabilityMm !== null;
}

const GUARD_IS_ONE_SIDED: Caution = {
  code: 'guard-is-one-sided',
  text: 'The ± shown is for both sides and reaches past the limit. The verdict asks on the one side only: in 95 of 100 such sweeps the line lies inside.',
};

function partsInArcsec(uncertainty: SlopeUncertainty, slope: number) {
  return uncertainty.parts.map((part) => ({
    name: part.name,
    arcsec: arcsecFromRadians(part.slope / (1 + slope * slope)),
  }));
}

function passResult(fitted: FittedPass): PassResult {
  const { line } = fitted;
  return {
    pass: fitted.pass,
    points: line.points,
    slope: line.slope,
    slopeStandardError: line.slopeStandardError,
    interceptMm: line.interceptMm,
    interceptStandardErrorMm: line.interceptStandardErrorMm,
    fromMm: line.fromMm,
    toMm: line.toMm,
    lengthMm: line.toMm - line.fromMm,
    residualStandardDeviationMm: line.residualStandardDeviationMm,
    straightnessLeastSquaresMm: fitted.straightnessLeastSquaresMm,
    straightnessMinimumZoneMm: fitted.straightnessMinimumZoneMm,
  };
}

/** Where one of these is said the points are no line of the bar: nothing is tapped by it, and nothing is true. */
const NO_LINE_OF_THE_BAR: ReadonlySet<string> = new Set([
  'indicator-at-its-stop',
  'needle-held',
  'position-jumped',
  'unit-switched',
]);

/** Where one of these is said the line may hold, but it proves nothing. */
const NEVER_TRUE: ReadonlySet<string> = new Set(['swept-in-a-hurry', 'needle-never-moved']);

/** False where the points are no line of the bar by what is said of them: nothing is tapped by it. */
export function isLineOfTheBar(cautions: readonly Caution[]): boolean {
  return !cautions.some(({ code }) => NO_LINE_OF_THE_BAR.has(code));
}

interface FoundTap {
  advice: SweepResult['tap'];
  toReadingMm: number | null;
  refused: Fault | null;
  cautions: Caution[];
}

const NO_TAP: FoundTap = { advice: null, toReadingMm: null, refused: null, cautions: [] };

function findTap(input: SweepInput, line: SweepLine, limit: number | null): FoundTap {
  const none = NO_TAP;
  const { pivot, malletMm, parked } = input;
  const tapToSlope = input.aimedSlope ?? input.targetSlope;
  if (pivot === null) return none;
  const refused =
    (parked && parkedTooNear(parked.xMm, pivot.xMm, line.lengthMm, input.displayUnit)) ??
    (malletMm === null ? null : malletAtPivot(malletMm, pivot.xMm, input.displayUnit));
  if (refused) {
    const text = `${refused.what} ${refused.remedy}`;
    return { ...none, refused, cautions: [{ code: refused.code, text }] };
  }
  const leverMm = (parked?.xMm ?? malletMm ?? pivot.xMm + line.lengthMm) - pivot.xMm;
  const coarse =
    limit !== null &&
    pivot.acrossMm === null &&
    isCoarseTap(line.slope, tapToSlope, limit, leverMm);
  return {
    advice:
      malletMm === null || input.rises === null
        ? null
        : tapAdvice(line.slope, tapToSlope, pivot.xMm, malletMm, input.axis),
    toReadingMm: tapToReadingMm({
      slope: line.slope,
      heightAtPivotMm: line.interceptMm + line.slope * pivot.xMm,
      target: tapToSlope,
      pivotMm: pivot.xMm,
      acrossMm: pivot.acrossMm,
      parked,
      rises: input.rises,
      stylusFactor: input.stylusFactor,
    }),
    refused: null,
    cautions: coarse ? [COARSE_TAP] : [],
  };
}

const COARSE_TAP: Caution = {
  code: 'coarse-tap',
  text: 'This is a large turn: where the pivot lies across from the bar shifts the reading to stop at. Sweep again after this tap.',
};
