import type { BenchState, DrawnPoint } from '@taptrue/protocol';
import { rungAtMost } from './steps.ts';
import { movesUp } from './words.ts';

export interface PictureSize {
  widthPx: number;
  heightPx: number;
}

export interface PicturePoint {
  xPx: number;
  yPx: number;
  pass: DrawnPoint['pass'];
}

/** Where everything of the picture stands, in pixels of the drawing; y grows downward, away is up. */
export interface PictureLayout {
  perMm: number;
  xPx(xMm: number): number;
  /** The straight line the swept edge is wanted on. */
  wantedYPx: number;
  /** Where the swept edge is drawn at x, tilt and exaggeration included. */
  edgeYPx(xMm: number): number;
  bodyTopPx: number;
  bodyBottomPx: number;
  /** Rotation of vise and bar about the pivot, degrees as SVG turns (clockwise positive). */
  tiltDeg: number;
  /** How many times too crooked it is drawn; null: nothing crooked to draw. */
  exaggeration: number | null;
  points: PicturePoint[];
  /** End of the swept length that lies nearer the bottom of the picture; null: neither, or not known. */
  lowerEnd: 'low' | 'high' | null;
  /** End at which the dial reads more; null: neither, or not known. */
  higherEnd: 'low' | 'high' | null;
  pivot: { xPx: number; halfWidthPx: number };
  mallet: { xPx: number; strikes: 'up' | 'down' } | null;
  barFromPx: number;
  barToPx: number;
}

export type PictureState = Pick<BenchState, 'setup' | 'sweep' | 'pivot' | 'tap'>;

const SIDE_MARGIN_PX = 34;
/** Largest lean of the drawing, as a part of its height from one end to the other. */
const LEAN_PART = 0.2;
/** A bar at its limit leans by this part of the largest lean, so that a true one looks true. */
const LIMIT_LEAN = 2.5;
const SCATTER_PART = 0.07;
/** A step of one tenth of a thousandth over a bar needs some thousands; beyond that noise is drawn as hills. */
const LARGEST_EXAGGERATION = 20_000;

export function pictureLayout(state: PictureState, size: PictureSize): PictureLayout {
  const { setup, sweep, pivot, tap } = state;
  const lengthMm = setup.sweptLengthMm;
  const { leftEndMm, rightEndMm, leftClampMm, rightClampMm } = setup.vise;
  const spots = [leftEndMm, rightEndMm, leftClampMm, rightClampMm, 0, lengthMm, setup.malletMm];
  const fromMm = Math.min(...spots, pivot.xMm);
  const toMm = Math.max(...spots, pivot.xMm);
  const perMm = (size.widthPx - 2 * SIDE_MARGIN_PX) / (toMm - fromMm);
  const xPx = (xMm: number) => SIDE_MARGIN_PX + (xMm - fromMm) * perMm;
  const wantedYPx = size.heightPx * 0.55;

  const result = sweep?.result ?? null;
  const remainingRad =
    tap?.remainingArcsec == null ? null : (tap.remainingArcsec * Math.PI) / 648e3;
  // Without the sense the drawing would lean one way by chance: it lies level until that is known.
  const lean =
    remainingRad !== null ? -remainingRad : result === null ? 0 : result.slope - setup.targetSlope;
  const slope = setup.rises === null ? 0 : lean;
  const heights = surfaceHeights(state);
  const offLine = heights.map((point) =>
    result === null
      ? point.yMm - meanOf(heights)
      : point.yMm - (result.interceptMm + result.slope * point.xMm),
  );
  const limitSlope = result?.limitArcsec == null ? 0 : (result.limitArcsec * Math.PI) / 648e3;
  const exaggeration = chooseExaggeration(
    (Math.max(Math.abs(slope), limitSlope * LIMIT_LEAN) * (toMm - fromMm) * perMm) /
      (size.heightPx * LEAN_PART),
    (Math.max(0, ...offLine.map(Math.abs)) * perMm) / (size.heightPx * SCATTER_PART),
  );
  const drawnSlope = slope * (exaggeration ?? 1);
  const points = heights.map((point, index) => ({
    xPx: xPx(point.xMm),
    yPx:
      wantedYPx -
      drawnSlope * perMm * (point.xMm - pivot.xMm) -
      offLine[index]! * perMm * (exaggeration ?? 1),
    pass: point.pass,
  }));
  const lowerEnd = slope === 0 ? null : slope > 0 ? 'low' : 'high';
  const upperEnd = slope === 0 ? null : slope > 0 ? 'high' : 'low';
  const advice = result?.tap ?? null;
  const strikesUp =
    tap?.remainingAtMalletMm != null
      ? tap.remainingAtMalletMm > 0
      : advice !== null && movesUp(advice.direction);
  const wanted =
    tap !== null
      ? tap.standing === 'keep tapping' || tap.standing === 'past'
      : sweep?.outdated === '';
  return {
    perMm,
    xPx,
    wantedYPx,
    edgeYPx: (xMm) => wantedYPx - drawnSlope * perMm * (xMm - pivot.xMm),
    bodyTopPx: size.heightPx * 0.27,
    bodyBottomPx: size.heightPx * 0.74,
    tiltDeg: (-Math.atan(drawnSlope) * 180) / Math.PI,
    exaggeration,
    points,
    lowerEnd,
    higherEnd: setup.targetSlope !== 0 ? null : setup.rises === 'away' ? upperEnd : lowerEnd,
    pivot: { xPx: xPx(pivot.xMm), halfWidthPx: pivot.uncertaintyMm * perMm },
    mallet:
      advice !== null &&
      advice.amountMm > 0 &&
      wanted &&
      (tap !== null || result?.verdict !== 'true')
        ? { xPx: xPx(setup.malletMm), strikes: strikesUp ? 'up' : 'down' }
        : null,
    barFromPx: xPx(Math.min(0, lengthMm)) - 6,
    barToPx: xPx(Math.max(0, lengthMm)) + 6,
  };
}

function chooseExaggeration(leanPerUnit: number, scatterPerUnit: number): number | null {
  const most = Math.max(leanPerUnit, scatterPerUnit);
  if (most === 0) return null;
  return rungAtMost(Math.min(1 / most, LARGEST_EXAGGERATION));
}

function meanOf(heights: readonly { yMm: number }[]): number {
  return heights.reduce((sum, point) => sum + point.yMm, 0) / Math.max(1, heights.length);
}

/** Surface heights of the points as drawn: y = -r where the reading rises toward the operator. */
function surfaceHeights({ setup, sweep }: PictureState) {
  const sense = setup.rises === 'toward' ? -1 : 1;
  const scale =
    setup.stylus.kind === 'nudge factor'
      ? setup.stylus.factor
      : setup.stylus.kind === 'stylus angle'
        ? Math.cos(setup.stylus.rad)
        : 1;
  return (sweep?.points ?? []).map((point) => ({
    xMm: point.xMm,
    yMm: sense * scale * point.readingMm,
    pass: point.pass,
  }));
}
