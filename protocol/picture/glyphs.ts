import { figure, type Mark, type Spot, standing } from './marks.ts';

const ORIGIN: Spot = { x: 0, y: 0 };

/** Radius of the pin, px. */
const PIN_PX = 11;

/** The pin the vise turns about, with a bar as wide as what is not known of its place. */
export function pivotPin(place: Spot, doubtPx: number, isLearned: boolean): Mark {
  const doubt = figure(doubtPx);
  return standing(isLearned ? 'pivot pivot-learned' : 'pivot', place, 0, [
    ...(doubtPx > PIN_PX
      ? [
          {
            kind: 'path',
            part: 'pivot-doubt',
            d: `M-${doubt} -7v14M-${doubt} 0H${doubt}M${doubt} -7v14`,
          } as const,
        ]
      : []),
    { kind: 'circle', part: 'pivot-pin', at: ORIGIN, r: PIN_PX },
    {
      kind: 'path',
      part: 'pivot-cross',
      d: `M-${PIN_PX} 0H${PIN_PX}M0 -${PIN_PX}V${PIN_PX}`,
    },
  ]);
}

/** Depth of mallet face and head together, px: the room it wants beside the vise. */
export const MALLET_PX = 29;

/** The mallet with its face at `place`; at 0 degrees it stands below and strikes up. */
export function mallet(place: Spot, deg: number, size = 1): Mark {
  const marks: Mark[] = [
    { kind: 'path', part: 'mallet-face', d: 'M-16 1h32v8h-32z' },
    { kind: 'path', part: 'mallet-head', d: `M-18 9h36v${MALLET_PX - 9}h-36z` },
  ];
  return standing('mallet', place, deg, marks, size);
}

/** The one arrow: from the face of the mallet the way it strikes. */
export function strikeArrow(place: Spot, deg: number, size = 1): Mark {
  const marks: Mark[] = [{ kind: 'path', part: 'arrow', d: 'M-9 -8v-34h-13l22 -30l22 30h-13v34z' }];
  return standing('strike', place, deg, marks, size);
}

/** Length of the stylus from the middle of its ball to the end of its body, px. */
export const STYLUS_PX = 52;

/** The stylus with its ball on the face at the origin; it reaches along x, away from the face. */
export function stylusMarks(): Mark[] {
  return [
    { kind: 'path', part: 'stylus-stem', d: 'M6 0H34' },
    { kind: 'path', part: 'stylus-body', d: `M34 -12H${STYLUS_PX}v24H34z` },
    { kind: 'circle', part: 'stylus-ball', at: { x: 6, y: 0 }, r: 6 },
  ];
}

/** The stylus square on a face; `out` is the way out of the face, on the drawing. */
export function stylusOn(place: Spot, out: Spot, size = 1): Mark {
  return standing('stylus', place, degOf(out), stylusMarks(), size);
}

/** Which way a direction of the drawing points, as SVG turns. */
export function degOf(way: Spot): number {
  return (Math.atan2(way.y, way.x) * 180) / Math.PI;
}
