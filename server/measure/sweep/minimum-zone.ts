export interface MinimumZone {
  /** Least distance along y between two parallel lines that hold all points, mm. */
  widthMm: number;
  /** Slope of those two lines. */
  slope: number;
}

interface Corner {
  x: number;
  y: number;
}

/** One side of the convex hull, left to right. `side` +1: the upper one, -1: the lower one. */
function hullSide(sorted: readonly Corner[], side: 1 | -1): Corner[] {
  const hull: Corner[] = [];
  for (const point of sorted) {
    const last = hull.at(-1);
    if (last && last.x === point.x) {
      if (side * (point.y - last.y) <= 0) continue;
      hull.pop();
    }
    while (hull.length >= 2 && !turnsInward(hull.at(-2)!, hull.at(-1)!, point, side)) hull.pop();
    hull.push(point);
  }
  return hull;
}

function turnsInward(a: Corner, b: Corner, c: Corner, side: 1 | -1): boolean {
  return side * ((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)) < 0;
}

/**
 * Minimum-zone straightness, measured along y as in ISO 12780-1 for a nearly level profile. The best pair
 * of lines has one of them along an edge of the convex hull, so every edge is tried. Positions must not
 * all be equal.
 */
export function minimumZone(xsMm: ArrayLike<number>, ysMm: ArrayLike<number>): MinimumZone {
  const meanX = xsMm[0] ?? 0;
  const meanY = ysMm[0] ?? 0;
  const sorted = Array.from({ length: xsMm.length }, (_, index) => ({
    x: xsMm[index]! - meanX,
    y: ysMm[index]! - meanY,
  })).sort((a, b) => a.x - b.x || a.y - b.y);
  const upper = hullSide(sorted, 1);
  const lower = hullSide(sorted, -1);

  let best: MinimumZone = { widthMm: Number.POSITIVE_INFINITY, slope: Number.NaN };
  for (const hull of [upper, lower]) {
    for (let index = 1; index < hull.length; index += 1) {
      const a = hull[index - 1]!;
      const b = hull[index]!;
      const slope = (b.y - a.y) / (b.x - a.x);
      const widthMm = widthAlong(upper, lower, slope);
      if (widthMm < best.widthMm) best = { widthMm, slope };
    }
  }
  return best;
}

function widthAlong(upper: readonly Corner[], lower: readonly Corner[], slope: number): number {
  let high = Number.NEGATIVE_INFINITY;
  let low = Number.POSITIVE_INFINITY;
  for (const { x, y } of upper) high = Math.max(high, y - slope * x);
  for (const { x, y } of lower) low = Math.min(low, y - slope * x);
  return high - low;
}
