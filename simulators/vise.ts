import { radiansFromArcsec, STAGES, type Stage } from '@taptrue/protocol';
import type { Dice } from './random.ts';

/** Lever at which the blows below are given, mm: about the arm from a left clamp to the right end of a 6 in vise. */
const REFERENCE_LEVER_MM = 150;
/** A mallet nearer the pivot than this turns nothing, it only pushes on the bolt. */
const SHORTEST_LEVER_MM = 3;

/** Turning by 0.02 in over 5 in about a pivot 60 mm across moves the ends along x by 0.24 mm; the swept ends still lie on the bar. */
const END_GRACE_MM = 0.5;

export type Blow = 'light' | 'medium' | 'firm';
export type BlowWay = 'away' | 'toward';

/** How hard the clamps hold. */
export interface Grip {
  /** A blow that would move the mallet's place by less than this moves nothing, mm at the reference lever. */
  breakawayMm: number;
  /** Part of what is left above the breakaway that becomes movement. */
  ease: number;
  /** How far the turning point wanders from blow to blow, mm, one standard deviation. */
  pivotScatterMm: number;
}

/** What tightening up to a stage turns the vise by. */
export interface Shift {
  meanArcsec: number;
  scatterArcsec: number;
}

/** What one vise with its bar is, and stays. Millimetres; x from the bar's left end, y away from the operator. */
export interface ViseBuild {
  /** Where the vise truly turns, by stage. */
  pivotMm: Readonly<Record<Stage, number>>;
  /** The pivot lies farther away than the bar: positive. */
  pivotAcrossMm: number;
  barLengthMm: number;
  /** Height of the bar's middle over its ends, away positive. */
  bowMm: number;
  /** From here to the right the surface stands this much farther away (dirt or a chip behind the bar). */
  chip: { fromMm: number; heightMm: number } | null;
  grip: Readonly<Record<Stage, Grip>>;
  shift: Readonly<Record<Stage, Shift>>;
  /** Movement a blow would give at the reference lever without friction, mm. */
  blowMm: Readonly<Record<Blow, number>>;
  /** Scatter of blows of one name: standard deviation of their logarithm. */
  blowScatter: number;
  /** How often a blow that moves the vise sticks half way, its rest being let go by the next one. */
  stickProbability: number;
}

/** How the vise lies now: the body turned by `angleRad` counter-clockwise, then moved. */
export interface ViseState {
  angleRad: number;
  shiftXMm: number;
  shiftYMm: number;
  stage: Stage;
  /** Turn that a sticking blow wound up and has not given yet. */
  woundUpRad: number;
}

/** Ordinary values, common practice, no source: nipped clamps move by a tenth of a thou or two at a light tap, tight ones hardly at a firm one. */
export const USUAL_GRIP: Readonly<Record<Stage, Grip>> = {
  free: { breakawayMm: 0.002, ease: 1.3, pivotScatterMm: 12 },
  nipped: { breakawayMm: 0.008, ease: 1, pivotScatterMm: 1 },
  snug: { breakawayMm: 0.03, ease: 0.6, pivotScatterMm: 1 },
  tight: { breakawayMm: 0.12, ease: 0.35, pivotScatterMm: 0.5 },
};

export const USUAL_SHIFT: Readonly<Record<Stage, Shift>> = {
  free: { meanArcsec: 0, scatterArcsec: 6 },
  nipped: { meanArcsec: 3, scatterArcsec: 5 },
  snug: { meanArcsec: 5, scatterArcsec: 3 },
  tight: { meanArcsec: 8, scatterArcsec: 3 },
};

/** About 0.0002, 0.002 and 0.006 in at the mallet with nipped clamps. */
export const USUAL_BLOWS_MM: Readonly<Record<Blow, number>> = {
  light: 0.015,
  medium: 0.06,
  firm: 0.16,
};

/** The vise turned by `turnRad` about a point fixed to the table. Exact, no small angles. */
export function turned(
  state: ViseState,
  turnRad: number,
  about: { xMm: number; yMm: number },
): ViseState {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  const armX = state.shiftXMm - about.xMm;
  const armY = state.shiftYMm - about.yMm;
  return {
    ...state,
    angleRad: state.angleRad + turnRad,
    shiftXMm: about.xMm + armX * cos - armY * sin,
    shiftYMm: about.yMm + armX * sin + armY * cos,
  };
}

/** A vise lying at this angle, turned from true about its own pivot. */
export function viseAt(build: ViseBuild, angleRad: number, stage: Stage): ViseState {
  const straight = { angleRad: 0, shiftXMm: 0, shiftYMm: 0, stage, woundUpRad: 0 };
  return turned(straight, angleRad, { xMm: build.pivotMm[stage], yMm: build.pivotAcrossMm });
}

function barHeightMm(build: ViseBuild, alongMm: number): number {
  const half = build.barLengthMm / 2;
  const fromMiddle = (alongMm - half) / half;
  const chip = build.chip && alongMm >= build.chip.fromMm ? build.chip.heightMm : 0;
  return build.bowMm * (1 - fromMiddle * fromMiddle) + chip;
}

/** y of the bar's surface under a stylus at x, mm, positive away from the operator; null beyond the bar's ends. */
export function surfaceMm(build: ViseBuild, state: ViseState, xMm: number): number | null {
  const cos = Math.cos(state.angleRad);
  const sin = Math.sin(state.angleRad);
  let alongMm = (xMm - state.shiftXMm) / cos;
  // The stylus stands at x of the table, not of the bar: three steps settle it to 1e-9 mm below one degree.
  for (let step = 0; step < 3; step += 1) {
    alongMm = (xMm - state.shiftXMm + barHeightMm(build, alongMm) * sin) / cos;
  }
  if (alongMm < -END_GRACE_MM || alongMm > build.barLengthMm + END_GRACE_MM) return null;
  return state.shiftYMm + alongMm * sin + barHeightMm(build, alongMm) * cos;
}

/** Slope of the line from one end of the bar to the other, what a perfect sweep of a straight bar would find. */
export function trueSlope(state: ViseState): number {
  return Math.tan(state.angleRad);
}

export interface BlowResult {
  state: ViseState;
  /** Signed, positive counter-clockwise; 0 where friction held. */
  turnedRad: number;
}

/** One blow of the mallet at x. Friction first: what does not overcome it moves nothing. */
export function strike(
  build: ViseBuild,
  state: ViseState,
  blow: { xMm: number; way: BlowWay; strength: Blow },
  dice: Dice,
): BlowResult {
  const grip = build.grip[state.stage];
  const pivotMm = build.pivotMm[state.stage] + dice.normal(0, grip.pivotScatterMm);
  const swing = Math.exp(dice.normal(0, build.blowScatter));
  const sticks = dice.happens(build.stickProbability);
  const leverMm = blow.xMm - pivotMm;
  const driveMm = (build.blowMm[blow.strength] * swing * Math.abs(leverMm)) / REFERENCE_LEVER_MM;
  if (Math.abs(leverMm) < SHORTEST_LEVER_MM || driveMm <= grip.breakawayMm) {
    return { state, turnedRad: 0 };
  }
  const sense = Math.sign(leverMm) * (blow.way === 'away' ? 1 : -1);
  const fullRad = (sense * (driveMm - grip.breakawayMm) * grip.ease) / REFERENCE_LEVER_MM;
  const givenRad = sticks ? 0.3 * fullRad : fullRad;
  const turnedRad = givenRad + state.woundUpRad;
  const after = turned(state, turnedRad, { xMm: pivotMm, yMm: build.pivotAcrossMm });
  return { state: { ...after, woundUpRad: sticks ? fullRad - givenRad : 0 }, turnedRad };
}

/** The clamps brought to another stage, through every stage between; each turns the vise a little. */
export function clamp(build: ViseBuild, state: ViseState, stage: Stage, dice: Dice): ViseState {
  let now = state;
  let at = STAGES.indexOf(state.stage);
  const target = STAGES.indexOf(stage);
  while (at !== target) {
    const tightening = target > at;
    at += tightening ? 1 : -1;
    const reached = STAGES[at]!;
    const { meanArcsec, scatterArcsec } = build.shift[reached];
    // Letting go springs back without the wrench's steady pull: scatter only, and half of it.
    const arcsec = tightening
      ? dice.normal(meanArcsec, scatterArcsec)
      : dice.normal(0, scatterArcsec / 2);
    const about = { xMm: build.pivotMm[reached], yMm: build.pivotAcrossMm };
    now = {
      ...turned(now, radiansFromArcsec(arcsec) + now.woundUpRad, about),
      stage: reached,
      woundUpRad: 0,
    };
  }
  return now;
}
