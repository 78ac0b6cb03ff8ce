import { boundsOf, type Spot, turned } from './marks.ts';
import { rungAtMost } from './rungs.ts';
import type { PictureSize } from './set-up.ts';
import { inShop, type ViseParts, visePartsOf } from './vise-parts.ts';
import type { ViseScene } from './vise-scene.ts';

/**
 * A vise while its bar is swept and tapped. Positions along the swept axis are millimetres from the left end
 * mark, heights are millimetres across it, positive away.
 */
export interface SweptScene {
  vise: ViseScene;
  axis: 'x' | 'y';
  /** Where on the swept axis the middle of the touched face lies. */
  middleMm: number;
  sweptLengthMm: number;
  /** More places that must be in the picture: ends of the vise, clamps, mallet. */
  spotsMm: readonly number[];
  stationsMm: readonly number[];
  pivot: { xMm: number; uncertaintyMm: number; isLearned: boolean };
  malletMm: number;
  mallet: 'up' | 'down' | null;
  /** What is out of true, as slope; 0 where nothing is known of it. */
  lean: number;
  /** Slope of the limit, 0 where there is none. */
  limitSlope: number;
  points: readonly SweptPoint[];
}

export interface SweptPoint {
  xMm: number;
  /** How far off the line, or off the mean where there is no line yet. */
  offMm: number;
  pass: 'out' | 'back';
}

/** Where everything of the swept picture stands, in pixels; up is away. */
export interface SweptLayout {
  parts: ViseParts;
  perMm: number;
  xPx(xMm: number): number;
  /** The straight line the swept edge is wanted on. */
  wantedYPx: number;
  /** Where the swept edge is drawn at x, tilt and exaggeration included. */
  edgeYPx(xMm: number): number;
  /** From the vise's own frame to the drawing, before the tilt. */
  place(spot: Spot): Spot;
  /** How the vise lies, tilt not included, and vise and bar turned about the pivot, as SVG turns. */
  viseDeg: number;
  tiltDeg: number;
  /** How many times too crooked it is drawn; null: nothing crooked to draw. */
  exaggeration: number | null;
  points: { xPx: number; yPx: number; pass: 'out' | 'back' }[];
  /** End of the swept length that lies nearer the bottom of the picture; null: neither, or not known. */
  lowerEnd: 'low' | 'high' | null;
  pivot: { xPx: number; halfWidthPx: number };
  mallet: { at: Spot; strikes: 'up' | 'down' } | null;
  /** Out of the swept face: up or down on the drawing. */
  out: Spot;
  /** Of mallet, arrow and stylus: 1, less on a small drawing, where they would cover the stack. */
  glyphSize: number;
}

/** From this height of the drawing on mallet, arrow and stylus have their whole size. */
const GLYPHS_WHOLE_PX = 230;
const LEAST_GLYPH = 0.65;
const SIDE_MARGIN_PX = 24;
/** Above: a mallet or the word. Below: a mallet. */
const TOP_PX = 30;
const BOTTOM_PX = 34;
/** Rather than the swept length shorter than this part of the drawing, the picture comes closer. */
const LEAST_SWEPT_PART = 0.4;
/** Come closer, the swept face still leaves this part of the height on either side of it. */
const LEAST_SIDE_PART = 0.34;
/** Largest lean of the drawing, as a part of its height from one end to the other. */
const LEAN_PART = 0.2;
/** A bar at its limit leans by this part of the largest lean, so that a true one looks true. */
const LIMIT_LEAN = 2.5;
const SCATTER_PART = 0.07;
/** A step of one tenth of a thousandth over a bar needs some thousands; beyond that noise is drawn as hills. */
const LARGEST_EXAGGERATION = 20_000;

/**
 * The same vise at the same proportions as everywhere. The swept axis lies level, whichever it is; where the
 * whole vise would leave the swept length too short to read, the picture comes closer and its edge cuts it off.
 */
export function sweptLayout(scene: SweptScene, { widthPx, heightPx }: PictureSize): SweptLayout {
  const { vise, pivot } = scene;
  const parts = visePartsOf(vise);
  const viewRad = scene.axis === 'y' ? -Math.PI / 2 : vise.bar?.kind === 'sine' ? 0 : -vise.jawRad;
  const seen = (spot: Spot) => turned(inShop(vise, spot), viewRad);
  const touch = seen(parts.bar.touch);
  const across = (spot: Spot) => seen(spot).y - touch.y;
  const bodyMm = parts.outlines.flatMap(({ spots }) => spots);
  const body = boundsOf(bodyMm.map((spot) => ({ x: seen(spot).x - touch.x, y: across(spot) })));

  const along = [0, scene.sweptLengthMm, pivot.xMm, scene.malletMm, ...scene.spotsMm];
  const fromMm = Math.min(...along);
  const toMm = Math.max(...along);
  const widest = (widthPx - 2 * SIDE_MARGIN_PX) / (toMm - fromMm);
  const whole = (heightPx - TOP_PX - BOTTOM_PX) / (body.high - body.low);
  const least = (LEAST_SWEPT_PART * widthPx) / scene.sweptLengthMm;
  const perMm = Math.min(widest, Math.max(whole, least));
  const xPx = (xMm: number) => widthPx / 2 + (xMm - (fromMm + toMm) / 2) * perMm;
  const isWhole = perMm <= whole;
  const part = isWhole
    ? (TOP_PX +
        body.high * perMm +
        (heightPx - TOP_PX - BOTTOM_PX - (body.high - body.low) * perMm) / 2) /
      heightPx
    : clamp(body.high / (body.high - body.low), LEAST_SIDE_PART, 1 - LEAST_SIDE_PART);
  const wantedYPx = heightPx * part;
  const place = (spot: Spot): Spot => ({
    x: xPx(scene.middleMm + seen(spot).x - touch.x),
    y: wantedYPx - across(spot) * perMm,
  });

  const exaggeration = chooseExaggeration(
    (Math.max(Math.abs(scene.lean), scene.limitSlope * LIMIT_LEAN) * (toMm - fromMm) * perMm) /
      (heightPx * LEAN_PART),
    (Math.max(0, ...scene.points.map(({ offMm }) => Math.abs(offMm))) * perMm) /
      (heightPx * SCATTER_PART),
  );
  const times = exaggeration ?? 1;
  const drawnSlope = scene.lean * times;
  const edgeYPx = (xMm: number) => wantedYPx - drawnSlope * perMm * (xMm - pivot.xMm);
  const out = turned(
    { x: parts.bar.out.x, y: parts.bar.out.y * (vise.solidJaw === 'rear' ? -1 : 1) },
    vise.jawRad + viewRad,
  );
  return {
    parts,
    perMm,
    xPx,
    wantedYPx,
    edgeYPx,
    place,
    viseDeg: (-(vise.jawRad + viewRad) * 180) / Math.PI,
    tiltDeg: (-Math.atan(drawnSlope) * 180) / Math.PI,
    exaggeration,
    points: scene.points.map(({ xMm, offMm, pass }) => ({
      xPx: xPx(xMm),
      yPx: edgeYPx(xMm) - offMm * perMm * times,
      pass,
    })),
    lowerEnd: scene.lean === 0 ? null : scene.lean > 0 ? 'low' : 'high',
    pivot: { xPx: xPx(pivot.xMm), halfWidthPx: pivot.uncertaintyMm * perMm },
    mallet:
      scene.mallet === null
        ? null
        : {
            at: malletSpot(
              scene,
              scene.mallet,
              parts,
              place,
              xPx,
              heightPx,
              edgeYPx(scene.malletMm) - wantedYPx,
            ),
            strikes: scene.mallet,
          },
    out: { x: Math.round(out.x), y: -Math.round(out.y) },
    glyphSize: clamp(heightPx / GLYPHS_WHOLE_PX, LEAST_GLYPH, 1),
  };
}

/**
 * On the edge of the vise that it strikes from, back or front; where that is out of the picture, at the
 * picture's edge.
 */
function malletSpot(
  scene: SweptScene,
  strikes: 'up' | 'down',
  parts: ViseParts,
  place: (spot: Spot) => Spot,
  xPx: (xMm: number) => number,
  heightPx: number,
  tiltPx: number,
): Spot {
  const half = scene.vise.jawWidthMm / 2;
  const edges = [parts.backMm, parts.frontMm].map((y) => [
    place({ x: -half, y }),
    place({ x: half, y }),
  ]);
  const middle = (edge: Spot[]) => (edge[0]!.y + edge[1]!.y) / 2;
  const [upper, lower] = edges.sort((a, b) => middle(a) - middle(b));
  const [from, to] = (strikes === 'up' ? lower! : upper!).sort((a, b) => a.x - b.x);
  const x = clamp(xPx(scene.malletMm), from!.x, to!.x);
  const share = to!.x === from!.x ? 0 : (x - from!.x) / (to!.x - from!.x);
  const y = from!.y + (to!.y - from!.y) * share + tiltPx;
  return { x, y: clamp(y, TOP_PX, heightPx - BOTTOM_PX) };
}

const clamp = (value: number, least: number, most: number) =>
  Math.min(most, Math.max(least, value));

function chooseExaggeration(leanPerUnit: number, scatterPerUnit: number): number | null {
  const most = Math.max(leanPerUnit, scatterPerUnit);
  if (most === 0) return null;
  return rungAtMost(Math.min(1 / most, LARGEST_EXAGGERATION));
}
