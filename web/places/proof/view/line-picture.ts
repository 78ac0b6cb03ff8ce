/** A point of a line: along the bar and across it, mm, positive away. */
export type LinePoint = readonly [xMm: number, yMm: number];

export interface Box {
  widthPx: number;
  heightPx: number;
  padPx: number;
}

export interface Scale {
  xPx(xMm: number): number;
  yPx(yMm: number): number;
  lowMm: number;
  highMm: number;
}

/**
 * Below this full height no picture is stretched, mm: a bar that lies true shall look level, not like the last
 * digit of its dial.
 */
export const LEAST_HEIGHT_MM = 0.02;

/** One scale for all points, away at the top. */
export function scaleFor(points: readonly LinePoint[], box: Box): Scale {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [fromMm, toMm] = [Math.min(...xs), Math.max(...xs)];
  const middle = (Math.min(...ys) + Math.max(...ys)) / 2;
  const half = Math.max(LEAST_HEIGHT_MM, Math.max(...ys) - Math.min(...ys)) / 2;
  const { widthPx, heightPx, padPx } = box;
  const spanMm = toMm - fromMm || 1;
  return {
    lowMm: middle - half,
    highMm: middle + half,
    xPx: (xMm) => padPx + ((xMm - fromMm) / spanMm) * (widthPx - 2 * padPx),
    yPx: (yMm) => heightPx / 2 - ((yMm - middle) / half) * (heightPx / 2 - padPx),
  };
}

/** `M3 4L5 6`: the points in the order they were taken. */
export function pathThrough(points: readonly LinePoint[], scale: Scale): string {
  return points
    .map(
      ([x, y], index) =>
        `${index === 0 ? 'M' : 'L'}${scale.xPx(x).toFixed(1)} ${scale.yPx(y).toFixed(1)}`,
    )
    .join('');
}
