import type { FittedPass } from './combine-passes.ts';
import { studentT } from './student-t.ts';

/**
 * Chance that each of the three shapes is named on a clean straight bar with normal noise, per sweep,
 * before the search over places is allowed for (it is, by dividing). One in a thousand: at some ten
 * sweeps a job that is one false remark in thirty jobs.
 */
export const FALSE_ALARM_PER_SHAPE = 0.001;

/**
 * A shape lower than this many counts of the indicator is not named: a straight line read in whole counts
 * makes steps and bumps of just one count.
 */
const LEAST_COUNTS = 1.5;

/** Nothing below a hundredth of a micrometre is a shape; it is the last digit of the arithmetic. */
const LEAST_SHAPE_MM = 1e-5;

/** Fewer points leave too little to tell shapes apart; each shape takes one parameter of its own. */
const LEAST_POINTS_FOR_BOW = 4;
const LEAST_POINTS_FOR_STEP = 6;
const LEAST_POINTS_FOR_BUMP = 5;

/** A bump covers at most this share of the points; a longer one is a step or a bow. */
const WIDEST_BUMP_SHARE = 1 / 8;

export type ShapeKind = 'bow' | 'step' | 'bump';

export interface Shape {
  kind: ShapeKind;
  /** Bow: height over its chord, positive farther away in the middle. Step, bump: height, mm. */
  heightMm: number;
  /** Where it is along the work, mm: a step between the two, a bump from the one to the other. */
  fromMm: number;
  toMm: number;
  /** How much of the squared residuals it explains, mm². */
  explainedMm2: number;
}

interface Candidate extends Shape {
  tried: number;
}

/** Running sums of one pass in order of position: what any run of points has to say costs one subtraction. */
function runningSums(pass: FittedPass) {
  const count = pass.order.length;
  const residual = new Float64Array(count + 1);
  const offset = new Float64Array(count + 1);
  for (let place = 0; place < count; place += 1) {
    residual[place + 1] = residual[place]! + pass.residualsInOrderMm[place]!;
    offset[place + 1] = offset[place]! + pass.xsMm[pass.order[place]!]! - pass.line.meanXMm;
  }
  return { residual, offset };
}

/**
 * What is gained by letting the points of one run (place `from` up to but not including `to`) lie higher
 * by a common height: the classical added-variable least squares.
 */
function raisedRun(
  pass: FittedPass,
  sums: ReturnType<typeof runningSums>,
  from: number,
  to: number,
) {
  const width = to - from;
  const product = sums.residual[to]! - sums.residual[from]!;
  const offset = sums.offset[to]! - sums.offset[from]!;
  const own =
    width - (width * width) / pass.line.points - (offset * offset) / pass.line.sumSquaresXMm2;
  if (own <= 1e-9) return null;
  return { heightMm: product / own, explainedMm2: (product * product) / own };
}

function bow(pass: FittedPass): Candidate | null {
  const { line, xsMm } = pass;
  if (line.points < LEAST_POINTS_FOR_BOW) return null;
  const half = (line.toMm - line.fromMm) / 2;
  const curve = Float64Array.from(xsMm, (x) => ((x - line.meanXMm) / half) ** 2);
  let meanCurve = 0;
  for (const value of curve) meanCurve += value / line.points;
  let along = 0;
  for (let i = 0; i < line.points; i += 1) along += curve[i]! * (xsMm[i]! - line.meanXMm);
  let own = 0;
  let product = 0;
  for (let i = 0; i < line.points; i += 1) {
    const rest = curve[i]! - meanCurve - (along / line.sumSquaresXMm2) * (xsMm[i]! - line.meanXMm);
    own += rest * rest;
    product += rest * line.residualsMm[i]!;
  }
  if (own <= 1e-9) return null;
  return {
    kind: 'bow',
    heightMm: -product / own,
    fromMm: line.fromMm,
    toMm: line.toMm,
    explainedMm2: (product * product) / own,
    tried: 1,
  };
}

function bestRun(pass: FittedPass, kind: 'step' | 'bump', runs: Iterable<[number, number]>) {
  const sums = runningSums(pass);
  const xAt = (place: number) => pass.xsMm[pass.order[place]!]!;
  let best: Candidate | null = null;
  let tried = 0;
  for (const [from, to] of runs) {
    const gain = raisedRun(pass, sums, from, to);
    if (gain === null) continue;
    tried += 1;
    if (best !== null && gain.explainedMm2 <= best.explainedMm2) continue;
    best = {
      kind,
      ...gain,
      fromMm: kind === 'step' ? xAt(from - 1) : xAt(from),
      toMm: kind === 'step' ? xAt(from) : xAt(to - 1),
      tried: 0,
    };
  }
  if (best !== null) best.tried = tried;
  return best;
}

/** Every place with two points at least on both sides. */
function* stepRuns(count: number): Generator<[number, number]> {
  for (let from = 2; from <= count - 2; from += 1) yield [from, count];
}

/** Runs of 1, 2, 4... points at every place: enough to find a chip of any width, n log n of them. */
function* bumpRuns(count: number): Generator<[number, number]> {
  const widest = Math.max(1, Math.floor(count * WIDEST_BUMP_SHARE));
  for (let width = 1; width <= widest; width *= 2) {
    for (let from = 0; from + width <= count; from += 1) yield [from, from + width];
  }
}

function isSignificant(candidate: Candidate, pass: FittedPass): boolean {
  const freedom = pass.line.points - 3;
  const leftMm2 = pass.line.sumSquaresResidualMm2 - candidate.explainedMm2;
  const variance = Math.max(0, leftMm2) / freedom;
  const factor = studentT(1 - FALSE_ALARM_PER_SHAPE / (2 * candidate.tried), freedom);
  return candidate.explainedMm2 > factor * factor * variance;
}

/**
 * The one shape other than a straight line that explains most of what the points of a pass have left over,
 * or null where chance explains it as well. A bow also looks a little like a step and a chip a little like
 * a bow, so only the best of the three is named.
 */
export function shapeOf(pass: FittedPass, countMm: number): Shape | null {
  const count = pass.line.points;
  const candidates = [
    bow(pass),
    count >= LEAST_POINTS_FOR_STEP ? bestRun(pass, 'step', stepRuns(count)) : null,
    count >= LEAST_POINTS_FOR_BUMP ? bestRun(pass, 'bump', bumpRuns(count)) : null,
  ];
  const leastMm = Math.max(LEAST_SHAPE_MM, LEAST_COUNTS * countMm);
  let best: Shape | null = null;
  for (const candidate of candidates) {
    if (candidate === null || Math.abs(candidate.heightMm) < leastMm) continue;
    if (!isSignificant(candidate, pass)) continue;
    if (best === null || candidate.explainedMm2 > best.explainedMm2) best = candidate;
  }
  return best;
}
