import type { SweepPoint } from './sweep-input.ts';

export interface TakingOrder {
  /** Positions go one way only; equal neighbours are allowed. */
  oneWay: boolean;
  /** Two points or more share a position. */
  repeated: boolean;
}

/** How the positions of one pass follow each other. */
export function takingOrder(points: readonly SweepPoint[]): TakingOrder {
  let rises = false;
  let falls = false;
  for (let index = 1; index < points.length; index += 1) {
    const step = points[index]!.xMm - points[index - 1]!.xMm;
    if (step > 0) rises = true;
    if (step < 0) falls = true;
  }
  const different = new Set(points.map((point) => point.xMm)).size;
  return { oneWay: !(rises && falls), repeated: different < points.length };
}
