import { drawVise } from './draw-vise.ts';
import { MALLET_PX, mallet, pivotPin, STYLUS_PX, stylusOn } from './glyphs.ts';
import { add, boundsOf, type Mark, outline, type Spot, turned } from './marks.ts';
import { drawTurn, type Turn, turnSpots } from './turn-arrow.ts';
import { inShop, type ViseParts, visePartsOf } from './vise-parts.ts';
import type { ViseScene } from './vise-scene.ts';

export type End = 'left' | 'right';

/** A vise as it is to be set: how it gets there, what it turns about, what touches it. */
export interface SetUpScene {
  vise: ViseScene;
  /** Where the swept face lies when set, radians from X: 0, or a quarter turn either way. */
  sweptRad: number;
  turn: 'clockwise' | 'counter-clockwise' | 'none';
  endAway: End | null;
  pivotEnd: End;
  /** Whether the indicator stands there. */
  isTouched: boolean;
}

export interface PictureSize {
  widthPx: number;
  heightPx: number;
}

export interface Margins {
  /** Kept free above and below, and at the sides, for words. */
  wordPx: number;
  sidePx: number;
}

/** Where everything of a set-up stands, in pixels of the drawing. */
export interface SetUpLayout {
  parts: ViseParts;
  pxPerMm: number;
  /** From the vise's own frame to the drawing. */
  place(spot: Spot): Spot;
  px(shopMm: Spot): Spot;
  pivot: Spot;
  mallet: Spot;
  malletDeg: number;
  touch: Spot;
  /** Out of the face that is swept, on the drawing. */
  out: Spot;
  axis: { from: Spot; to: Spot; name: 'X' | 'Y' };
  turn: Turn | null;
}

/** Everything seen at once, to scale in angle and length. */
export function setUpLayout(
  scene: SetUpScene,
  size: PictureSize,
  { wordPx, sidePx }: Margins,
): SetUpLayout {
  const { vise } = scene;
  const width = vise.jawWidthMm;
  const parts = visePartsOf(vise);
  const shop = (spot: Spot) => inShop(vise, spot);
  const facing = vise.solidJaw === 'rear' ? -1 : 1;
  const pivotSide = scene.pivotEnd === 'left' ? -1 : 1;
  const pivot = shop(parts.bolts[pivotSide < 0 ? 0 : 1]);
  const touch = shop(parts.bar.touch);
  const out = turned({ x: parts.bar.out.x, y: parts.bar.out.y * facing }, vise.jawRad);
  const isAlongY = Math.abs(Math.sin(scene.sweptRad)) > 0.7;
  const axisWay = turned({ x: 1, y: 0 }, isAlongY ? Math.PI / 2 : 0);

  const sign = scene.turn === 'counter-clockwise' ? 1 : -1;
  const strikesUp = sign * -pivotSide > 0;
  const malletMm = shop({
    x: -pivotSide * width * 0.41,
    y: strikesUp === facing < 0 ? parts.frontMm : parts.backMm,
  });
  const turn: Turn | null =
    scene.turn === 'none'
      ? null
      : { pivot, armMm: -pivotSide * width * 1.06, toRad: vise.jawRad, way: scene.turn };

  const malletWay = turned({ x: 0, y: strikesUp ? -1 : 1 }, vise.jawRad);
  const spots = [
    ...parts.outlines.flatMap((one) => one.spots.map(shop)),
    ...(turn === null ? [] : turnSpots(turn)),
  ];
  // Mallet and stylus keep their size in pixels: they are made room for once the scale is nearly known.
  const least = boundsOf(spots);
  const room = (bounds: ReturnType<typeof boundsOf>) =>
    Math.min(
      (size.widthPx - 2 * sidePx) / (bounds.right - bounds.left),
      (size.heightPx - 2 * wordPx) / (bounds.high - bounds.low),
    );
  const nearly = room(least);
  const bounds = boundsOf([
    ...spots,
    ...(turn === null ? [] : [add(malletMm, malletWay, MALLET_PX / nearly)]),
    ...(scene.isTouched ? [add(touch, out, STYLUS_PX / nearly)] : []),
  ]);
  const pxPerMm = room(bounds);
  const px = (spot: Spot): Spot => ({
    x: size.widthPx / 2 + (spot.x - (bounds.left + bounds.right) / 2) * pxPerMm,
    y: size.heightPx / 2 - (spot.y - (bounds.high + bounds.low) / 2) * pxPerMm,
  });
  const reach = Math.max(width * 1.02, vise.bar?.kind === 'sine' ? vise.bar.lengthMm * 0.62 : 0);
  return {
    parts,
    pxPerMm,
    place: (spot) => px(shop(spot)),
    px,
    pivot: px(pivot),
    mallet: px(malletMm),
    malletDeg: (-vise.jawRad * 180) / Math.PI + (strikesUp ? 0 : 180),
    touch: px(touch),
    out: { x: out.x, y: -out.y },
    axis: {
      from: px(add(touch, axisWay, -reach)),
      to: px(add(touch, axisWay, reach)),
      name: isAlongY ? 'Y' : 'X',
    },
    turn,
  };
}

/** The set-up without its words. `isBare`: no stylus, no mallet, no axis, for a small picture to choose by. */
export function drawSetUp(scene: SetUpScene, layout: SetUpLayout, isBare = false): Mark[] {
  const { parts, place, pxPerMm, axis } = layout;
  const deg = (-scene.vise.jawRad * 180) / Math.PI;
  const turn = layout.turn === null ? [] : drawTurn(layout.turn, layout.px, pxPerMm);
  const pin = pivotPin(layout.pivot, 0, false);
  const vise = drawVise(parts, place, pxPerMm, deg);
  if (isBare) return [...vise, ...turn, pin];
  return [
    ...vise,
    { kind: 'path', part: 'wanted-line', d: outline([axis.from, axis.to], true) },
    ...turn,
    pin,
    ...(layout.turn === null ? [] : [mallet(layout.mallet, layout.malletDeg)]),
    ...(scene.isTouched ? [stylusOn(layout.touch, layout.out)] : []),
  ];
}
