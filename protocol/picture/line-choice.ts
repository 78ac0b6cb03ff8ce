import { add, boundsOf, type Mark, outline, type Spot, turned } from './marks.ts';
import type { PictureSize } from './set-up.ts';

/** Which line an angle is measured from, each with a picture of its own. */
export type LineChoice =
  | 'along the jaw'
  | 'square to the jaw'
  | 'centreline along the jaw'
  | 'centreline square to the jaw'
  | 'beyond the edge'
  | 'short of the edge'
  | 'across the jaw line';

/** Angles the pictures are drawn at, radians: large enough to be told apart on a thumbnail. */
const DRAWN: Readonly<Record<LineChoice, { setRad: number; edgeRad: number }>> = {
  'along the jaw': { setRad: 0.42, edgeRad: 0 },
  'square to the jaw': { setRad: 0.42, edgeRad: 0 },
  'centreline along the jaw': { setRad: 0.3, edgeRad: 0 },
  'centreline square to the jaw': { setRad: 0.5, edgeRad: 0 },
  'beyond the edge': { setRad: 0.52, edgeRad: 0.2 },
  'short of the edge': { setRad: 0.2, edgeRad: 0.6 },
  'across the jaw line': { setRad: 0.28, edgeRad: 0.26 },
};

/** In parts of half the jaw's width. */
const JAW_DEPTH = 0.26;
const PLATE_DEPTH = 0.06;
const WORK_HALF = 0.86;
const WORK_DEPTH = 0.72;
const ARC = 0.46;
const MARGIN_PX = 9;

/** One picture, drawn for a solid jaw at the back and the right end away; the others are its mirrors. */
interface Drawn {
  work: Spot[];
  off: Spot[];
  cut: [Spot, Spot];
  reference: [Spot, Spot];
  /** The jaw's line through the corner, where the reference is another. */
  jawLine: [Spot, Spot] | null;
  arc: { about: Spot; fromRad: number; toRad: number; radius: number };
}

/**
 * The work against the turned jaw, seen from above: the cut lies along the table, heavy; the line the angle
 * is measured from is chain-dotted; the arc is the angle as the print writes it.
 */
export function drawLineChoice(
  choice: LineChoice,
  hand: 'right-away' | 'left-away',
  solidJaw: 'rear' | 'front',
  { widthPx, heightPx }: PictureSize,
): Mark[] {
  const { setRad, edgeRad } = DRAWN[choice];
  /** x along the jaw, y out of its face, both in halves of the jaw. */
  const shop = (x: number, y: number): Spot => turned({ x, y: -y }, setRad);
  const drawn =
    choice === 'centreline along the jaw'
      ? taperedWork(setRad, shop)
      : choice === 'centreline square to the jaw'
        ? pointedWork(setRad, shop)
        : cornerWork(choice, setRad, choice === 'across the jaw line' ? -edgeRad : edgeRad, shop);
  const jaw = box(shop, -1, -JAW_DEPTH, 1, 0);
  const mirrored = ({ x, y }: Spot): Spot => ({
    // The jaw at the front is the same picture turned half round: mirrored both ways, it keeps its hand.
    x: (hand === 'right-away') === (solidJaw === 'rear') ? x : -x,
    y: solidJaw === 'rear' ? y : -y,
  });
  const everything = [...jaw, ...drawn.work, ...drawn.off, ...drawn.reference];
  const bounds = boundsOf(everything.map(mirrored));
  const pxPer = Math.min(
    (widthPx - 2 * MARGIN_PX) / (bounds.right - bounds.left),
    (heightPx - 2 * MARGIN_PX) / (bounds.high - bounds.low),
  );
  const px = (spot: Spot): Spot => {
    const { x, y } = mirrored(spot);
    return {
      x: widthPx / 2 + (x - (bounds.left + bounds.right) / 2) * pxPer,
      y: heightPx / 2 - (y - (bounds.low + bounds.high) / 2) * pxPer,
    };
  };
  const path = (part: string, spots: readonly Spot[], isOpen = false): Mark => ({
    kind: 'path',
    part,
    d: outline(spots.map(px), isOpen),
  });
  return [
    path('jaw', jaw),
    path('jaw-plate', box(shop, -1, -PLATE_DEPTH, 1, 0)),
    path('work', drawn.work),
    ...(drawn.off.length > 0 ? [path('cut-off', drawn.off)] : []),
    ...(drawn.jawLine === null ? [] : [path('ray', drawn.jawLine, true)]),
    path('reference-line', drawn.reference, true),
    path('cut-edge', drawn.cut, true),
    path('angle-arc', arcSpots(drawn.arc), true),
    ...arrowHeads(drawn.arc, px),
  ];
}

type Shop = (x: number, y: number) => Spot;

function box(shop: Shop, x0: number, y0: number, x1: number, y1: number): Spot[] {
  return [shop(x0, y0), shop(x1, y0), shop(x1, y1), shop(x0, y1)];
}

const ARC_STEPS = 16;

function arcSpots({ about, fromRad, toRad, radius }: Drawn['arc']): Spot[] {
  return Array.from({ length: ARC_STEPS + 1 }, (_, step) =>
    add(about, turned({ x: radius, y: 0 }, fromRad + ((toRad - fromRad) * step) / ARC_STEPS)),
  );
}

/** A head at both ends of the arc, as a dimension is drawn. */
function arrowHeads(arc: Drawn['arc'], px: (spot: Spot) => Spot): Mark[] {
  const { about, fromRad, toRad, radius } = arc;
  const span = Math.min(0.3, (toRad - fromRad) * 0.4);
  const head = (tipRad: number, backRad: number): Mark => {
    const on = (rad: number, r: number) => px(add(about, turned({ x: r, y: 0 }, rad)));
    return {
      kind: 'path',
      part: 'angle-head',
      d: outline([
        on(tipRad, radius),
        on(backRad, radius * (1 + 0.26 * span)),
        on(backRad, radius * (1 - 0.26 * span)),
      ]),
    };
  };
  return [head(fromRad, fromRad + span), head(toRad, toRad - span)];
}

/** What of an outline lies on one side of a level line. */
function keptAbove(spots: readonly Spot[], level: number, side: 1 | -1): Spot[] {
  return spots.flatMap((from, index) => {
    const to = spots[(index + 1) % spots.length]!;
    const [a, b] = [(from.y - level) * side, (to.y - level) * side];
    const own = a >= -1e-9 ? [from] : [];
    if (a * b >= 0 || Math.abs(a) < 1e-9 || Math.abs(b) < 1e-9) return own;
    return [...own, { x: from.x + ((to.x - from.x) * a) / (a - b), y: level }];
  });
}

/** A plate with its front edge at `edgeRad` to the jaw; the cut takes one corner of it off. */
function cornerWork(choice: LineChoice, setRad: number, edgeRad: number, shop: Shop): Drawn {
  const front = (x: number) => WORK_DEPTH + Math.tan(edgeRad) * (x - 0.15);
  const corner = shop(0.15, front(0.15));
  const whole = [
    shop(-WORK_HALF, 0),
    shop(WORK_HALF, 0),
    shop(WORK_HALF, front(WORK_HALF)),
    shop(-WORK_HALF, front(-WORK_HALF)),
  ];
  const work = keptAbove(whole, corner.y, 1);
  const off = keptAbove(whole, corner.y, -1);
  const onCut = work.filter(({ y }) => Math.abs(y - corner.y) < 1e-6).map(({ x }) => x);
  const cut: [Spot, Spot] = [
    { x: Math.min(...onCut, corner.x), y: corner.y },
    { x: Math.max(...onCut, corner.x), y: corner.y },
  ];
  if (choice === 'square to the jaw') {
    return {
      work,
      off,
      cut,
      reference: [shop(-WORK_HALF, -0.02), shop(-WORK_HALF, front(-WORK_HALF) + 0.16)],
      jawLine: null,
      arc: { about: cut[0], fromRad: setRad - Math.PI / 2, toRad: 0, radius: ARC * 0.8 },
    };
  }
  const isRight = choice === 'short of the edge';
  return {
    work,
    off,
    cut,
    reference: [shop(-1, front(-1)), shop(1, front(1))],
    jawLine: edgeRad === 0 ? null : [shop(-1, WORK_DEPTH), shop(1, WORK_DEPTH)],
    arc: isRight
      ? { about: corner, fromRad: setRad - edgeRad, toRad: 0, radius: ARC * 1.2 }
      : { about: corner, fromRad: Math.PI, toRad: Math.PI + setRad - edgeRad, radius: ARC * 1.4 },
  };
}

/** A plate that narrows to both sides of a line along the jaw. */
function taperedWork(setRad: number, shop: Shop): Drawn {
  const half = 0.36;
  const from = 0.35;
  const blunt = 0.1;
  const tip = from - half / Math.tan(setRad);
  const end = from - (half - blunt) / Math.tan(setRad);
  const cut: [Spot, Spot] = [shop(end, half + blunt), shop(from, 2 * half)];
  return {
    work: [
      shop(end, half - blunt),
      shop(from, 0),
      shop(1, 0),
      shop(1, 2 * half),
      shop(from, 2 * half),
      shop(end, half + blunt),
    ],
    off: [shop(end, half - blunt), shop(tip, half), shop(end, half + blunt)],
    cut,
    reference: [shop(tip - 0.12, half), shop(1.08, half)],
    jawLine: null,
    arc: { about: shop(tip, half), fromRad: 0, toRad: 2 * setRad, radius: 1 },
  };
}

/** A plate that comes to a point on a line square to the jaw. */
function pointedWork(setRad: number, shop: Shop): Drawn {
  const reach = 0.8;
  const depth = 0.86;
  const side = depth - reach * Math.tan(setRad);
  const apex = shop(0, depth);
  return {
    work: [shop(-reach, 0), shop(reach, 0), shop(reach, side), apex, shop(-reach, side)],
    off: [],
    cut: [shop(-reach, side), apex],
    reference: [shop(0, depth + 0.16), shop(0, -JAW_DEPTH)],
    jawLine: null,
    arc: { about: apex, fromRad: 2 * setRad, toRad: Math.PI, radius: ARC },
  };
}
