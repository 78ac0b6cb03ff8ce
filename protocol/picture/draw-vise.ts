import { type Mark, outline, type Spot, standing } from './marks.ts';
import type { ViseParts } from './vise-parts.ts';

/** Smaller than this a bolt could not be told from a dot, px. */
const LEAST_BOLT_PX = 5;

/**
 * Vise, bar, rolls, stack and bolts, in the order they lie upon each other. `place` takes a place of the
 * vise's own frame to one of the drawing; `deg` is how the vise lies there, as SVG turns.
 */
export function drawVise(
  parts: ViseParts,
  place: (spot: Spot) => Spot,
  pxPerMm: number,
  deg: number,
): Mark[] {
  const { swivel, outlines, bar, bolts } = parts;
  const bolt = Math.max(LEAST_BOLT_PX, parts.boltRadiusMm * pxPerMm);
  return [
    {
      kind: 'circle',
      part: 'swivel',
      at: place(swivel.at),
      r: swivel.radiusMm * pxPerMm,
    },
    ...outlines.map(
      ({ part, spots, isOpen }): Mark => ({
        kind: 'path',
        part,
        d: outline(spots.map(place), isOpen),
      }),
    ),
    ...bar.rolls.map(
      ({ at, radiusMm }): Mark => ({
        kind: 'circle',
        part: 'roll',
        at: place(at),
        r: radiusMm * pxPerMm,
      }),
    ),
    ...bolts.map((at) => standing('clamp', place(at), deg, boltMarks(bolt))),
  ];
}

function boltMarks(r: number): Mark[] {
  const corner = (x: number, y: number): Spot => ({ x: x * r, y: y * r });
  return [
    { kind: 'circle', part: 'washer', at: { x: 0, y: 0 }, r },
    {
      kind: 'path',
      part: 'bolt',
      d: outline([
        corner(-0.68, 0),
        corner(-0.34, -0.59),
        corner(0.34, -0.59),
        corner(0.68, 0),
        corner(0.34, 0.59),
        corner(-0.34, 0.59),
      ]),
    },
  ];
}
