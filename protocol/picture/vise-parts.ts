import { type BarParts, barPartsOf } from './bar-parts.ts';
import { type Spot, turned } from './marks.ts';
import { PROPORTIONS, type ViseScene } from './vise-scene.ts';

export interface Outline {
  part: 'vise-bed' | 'vise-rail' | 'jaw' | 'jaw-plate' | 'screw' | 'stack' | 'stack-joint' | 'bar';
  /** In the frame of the vise: x along the jaw, y out of the solid jaw's face. */
  spots: Spot[];
  isOpen: boolean;
}

/** Everything of the vise that is not a mark put onto it. */
export interface ViseParts {
  outlines: Outline[];
  bar: BarParts;
  bolts: [Spot, Spot];
  boltRadiusMm: number;
  swivel: { at: Spot; radiusMm: number };
  /** Back of the solid jaw and front of the moving one, out of the solid jaw's face. */
  backMm: number;
  frontMm: number;
}

export function visePartsOf(vise: ViseScene): ViseParts {
  const width = vise.jawWidthMm;
  const half = width / 2;
  const bar = barPartsOf(vise);
  const opening = Math.max(width * PROPORTIONS.leastOpening, bar.deepestMm + width * 0.04);
  const frontMm = opening + width * PROPORTIONS.movingDepth;
  const backMm = -width * (PROPORTIONS.solidDepth + PROPORTIONS.backRim);
  const jaw = half * (1 - 2 * PROPORTIONS.jawInset);
  const outlines: Outline[] = [];
  const box = (part: Outline['part'], x0: number, y0: number, x1: number, y1: number) =>
    outlines.push({
      part,
      isOpen: false,
      spots: [
        { x: x0, y: y0 },
        { x: x1, y: y0 },
        { x: x1, y: y1 },
        { x: x0, y: y1 },
      ],
    });
  box('vise-bed', -half, backMm, half, frontMm);
  box('vise-rail', -half * 0.56, 0, -half * 0.24, opening);
  box('vise-rail', half * 0.24, 0, half * 0.56, opening);
  box('jaw', -jaw, opening, jaw, frontMm);
  box('screw', -width * 0.05, frontMm, width * 0.05, frontMm + width * PROPORTIONS.screwDepth);
  box('jaw', -jaw, -width * PROPORTIONS.solidDepth, jaw, 0);
  box('jaw-plate', -jaw, -width * PROPORTIONS.plateDepth, jaw, 0);
  for (const { alongMm, halfMm, heightMm, jointsMm } of bar.stacks) {
    box('stack', alongMm - halfMm, 0, alongMm + halfMm, heightMm);
    for (const y of jointsMm)
      outlines.push({
        part: 'stack-joint',
        isOpen: true,
        spots: [
          { x: alongMm - halfMm, y },
          { x: alongMm + halfMm, y },
        ],
      });
  }
  if (bar.body.length > 0) outlines.push({ part: 'bar', isOpen: false, spots: bar.body });
  const boltY = -width * ((PROPORTIONS.solidDepth + PROPORTIONS.plateDepth) / 2);
  const bolt = (x: number): Spot => ({ x, y: boltY });
  return {
    outlines,
    bar,
    bolts: [bolt(vise.boltsMm[0]), bolt(vise.boltsMm[1])],
    boltRadiusMm: width * PROPORTIONS.boltRadius,
    swivel: {
      at: { x: vise.swivelMm, y: (backMm + frontMm) / 2 },
      radiusMm: (frontMm - backMm) * 0.62,
    },
    backMm,
    frontMm,
  };
}

/** From the frame of the vise to the shop's, in millimetres: x to the right, y away, the jaw's middle at the origin. */
export function inShop(vise: ViseScene, spot: Spot): Spot {
  return turned({ x: spot.x, y: vise.solidJaw === 'rear' ? -spot.y : spot.y }, vise.jawRad);
}
