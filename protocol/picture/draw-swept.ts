import { drawVise } from './draw-vise.ts';
import { mallet, pivotPin, strikeArrow, stylusOn } from './glyphs.ts';
import { figure, type Mark, outline } from './marks.ts';
import type { PictureSize } from './set-up.ts';
import type { SweptLayout, SweptScene } from './swept.ts';

/** More points than this are a stream's: drawn small, so that a bump is not buried under its neighbours. */
const MOST_LARGE_POINTS = 50;
const STATION_PX = 11;

/** Vise and bar as they lie, and what is marked on them; below the stylus and the mallet. */
export function drawSwept(
  scene: SweptScene,
  layout: SweptLayout,
  { widthPx }: PictureSize,
): Mark[] {
  const { wantedYPx, pivot } = layout;
  return [
    {
      kind: 'group',
      part: 'tilted',
      transform: `rotate(${layout.tiltDeg.toFixed(3)} ${figure(pivot.xPx)} ${figure(wantedYPx)})`,
      marks: [
        ...drawVise(layout.parts, layout.place, layout.perMm, layout.viseDeg),
        ...scene.stationsMm.map(
          (xMm): Mark => ({
            kind: 'path',
            part: 'station',
            d: `M${figure(layout.xPx(xMm))} ${figure(wantedYPx)}v${-layout.out.y * STATION_PX}`,
          }),
        ),
      ],
    },
    {
      kind: 'path',
      part: 'wanted-line',
      d: outline(
        [
          { x: 0, y: wantedYPx },
          { x: widthPx, y: wantedYPx },
        ],
        true,
      ),
    },
    ...drawPoints(layout),
    pivotPin({ x: pivot.xPx, y: wantedYPx }, pivot.halfWidthPx, scene.pivot.isLearned),
  ];
}

/** Mallet and the one arrow; nothing where there is nothing to strike. */
export function drawStrike({ mallet: struck, glyphSize }: SweptLayout): Mark[] {
  if (struck === null) return [];
  const deg = struck.strikes === 'up' ? 0 : 180;
  return [mallet(struck.at, deg, glyphSize), strikeArrow(struck.at, deg, glyphSize)];
}

/** The stylus at x on the swept edge, for a picture that does not move. */
export function drawStylusAt(layout: SweptLayout, xMm: number): Mark {
  const place = { x: layout.xPx(xMm), y: layout.edgeYPx(xMm) };
  return stylusOn(place, layout.out, layout.glyphSize);
}

/** Out: filled dots. Back: open diamonds. */
function drawPoints({ points }: SweptLayout): Mark[] {
  const isStream = points.length > MOST_LARGE_POINTS;
  const half = isStream ? 4 : 8;
  return points.map(({ xPx, yPx, pass }) =>
    pass === 'out'
      ? {
          kind: 'circle',
          part: isStream ? 'point-stream' : 'point-out',
          at: { x: xPx, y: yPx },
          r: isStream ? 2.5 : 6,
        }
      : {
          kind: 'path',
          part: isStream ? 'point-stream-back' : 'point-back',
          d: `M${figure(xPx)} ${figure(yPx - half)}l${half} ${half}l${-half} ${half}l${-half} ${-half}z`,
        },
  );
}
