import type { ComparedSweep } from '@taptrue/protocol';
import { type Box, type LinePoint, type Scale, scaleFor } from './line-picture.ts';

export type LayWay = 'together' | 'as read' | 'off the line';

const WIDE_BOX: Box = { widthPx: 900, heightPx: 380, padPx: 34 };
/** On a phone the picture is drawn as wide as it is shown, so that its numbers can be read. */
const NARROW_BOX: Box = { widthPx: 366, heightPx: 300, padPx: 30 };

export function boxFor(pageWidthPx: number): Box {
  return pageWidthPx < 760 ? NARROW_BOX : WIDE_BOX;
}

/** Told apart without colour: whole, then ever other dashes; the number at its end settles the rest. */
const DASHES = [
  '',
  '14 6',
  '3 5',
  '16 5 3 5',
  '26 6',
  '7 4',
  '2 9',
  '20 5 8 5',
  '12 4 2 4 2 4',
  '30 10',
];

export interface LaidOver {
  box: Box;
  scale: Scale;
  lines: {
    points: LinePoint[];
    dash: string;
    label: { xPx: number; yPx: number; text: string };
  }[];
}

/** Height of one point as it is to be drawn, mm. */
function heightBy(
  way: LayWay,
  sweep: ComparedSweep,
  point: ComparedSweep['points'][number],
): number {
  switch (way) {
    case 'as read':
      return point.heightMm;
    case 'together':
      return point.heightMm - sweep.midHeightMm;
    case 'off the line':
      return point.offMm;
  }
}

/** The sweeps on one scale, each with its dash and the number of its line at an end, left and right in turn. */
export function layOver(sweeps: readonly ComparedSweep[], way: LayWay, box: Box): LaidOver {
  const lines = sweeps.map((sweep) =>
    sweep.points.map((point): LinePoint => [point.xMm, heightBy(way, sweep, point)]),
  );
  const scale = scaleFor(lines.flat(), box);
  const taken: { isRight: boolean; yPx: number }[] = [];
  return {
    box,
    scale,
    lines: lines.map((points, index) => {
      const isRight = index % 2 === 0;
      const byX = points.toSorted(([a], [b]) => a - b);
      const [xMm, yMm] = (isRight ? byX.at(-1) : byX[0])!;
      const yPx = freeHeight(taken, isRight, scale.yPx(yMm) + 6, box);
      taken.push({ isRight, yPx });
      return {
        points,
        dash: DASHES[index % DASHES.length]!,
        label: {
          xPx: scale.xPx(xMm) + (isRight ? 8 : -26),
          yPx,
          text: String(index + 1),
        },
      };
    }),
  };
}

/** Numbers of this size stand this far apart at least. */
const LABEL_PX = 20;

/** The height nearest to the line's end at which no other number stands, looked for downward, then upward. */
function freeHeight(
  taken: readonly { isRight: boolean; yPx: number }[],
  isRight: boolean,
  wantedPx: number,
  { heightPx }: Box,
): number {
  const isFree = (yPx: number) =>
    taken.every((other) => other.isRight !== isRight || Math.abs(other.yPx - yPx) >= LABEL_PX);
  for (let step = 0; step <= taken.length; step += 1) {
    for (const yPx of [wantedPx + step * LABEL_PX, wantedPx - step * LABEL_PX]) {
      if (isFree(yPx) && yPx > LABEL_PX && yPx < heightPx) return yPx;
    }
  }
  return wantedPx;
}
