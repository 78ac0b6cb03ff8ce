import type { PlanPicture, PlanQuestion } from '@taptrue/protocol';

export interface Spot {
  x: number;
  y: number;
}

/** A closed outline or an open line, in pixels of the drawing, ready for a path. */
export interface Outline {
  kind: 'bed' | 'rail' | 'jaw' | 'jaw-plate' | 'screw' | 'stack' | 'bar' | 'joint';
  path: string;
}

/** Where everything of the plan's picture stands, in pixels; y grows downward, away is up. */
export interface PlanLayout {
  outlines: Outline[];
  rolls: { at: Spot; radius: number }[];
  bolts: Spot[];
  boltRadius: number;
  swivel: { at: Spot; radius: number };
  pivot: Spot;
  /** The axis that the swept face lies on when set, through the place where the stylus touches. */
  axis: { from: Spot; to: Spot; name: 'X' | 'Y' };
  stylus: { tip: Spot; outDeg: number };
  mallet: { at: Spot; deg: number };
  /** The turn from straight to set, about the pivot; null: nothing to turn. */
  turn: { shaft: string; head: string; from: string; label: Spot; anchor: 'start' | 'end' } | null;
  /** Where the words at both ends of the jaw go. */
  ends: Readonly<Record<'left' | 'right', Spot>>;
  stackWord: { at: Spot; anchor: 'start' | 'middle' | 'end' } | null;
  pxPerMm: number;
}

export interface LayoutOptions {
  widthPx: number;
  heightPx: number;
  /** Room kept for words at the top and bottom, and at the sides. */
  wordPx: number;
  sidePx: number;
  /** Sizes of the blocks from the jaw outward, mm, under the raised and the other roll. */
  blocksMm: readonly number[];
  lowBlocksMm: readonly number[];
}

/** Parts of the vise against the width of its jaw; drawn to look like one, no number hangs on them. */
const SOLID_DEPTH = 0.19;
const MOVING_DEPTH = 0.13;
const BACK_RIM = 0.03;
const PLATE_DEPTH = 0.035;
const BOLT_AT = 0.41;
const LEAST_OPENING = 0.3;
const BAR_BODY = 0.07;
/** Shortest turn that is drawn as one: below this the arrow would be all head. */
const LEAST_TURN_RAD = 0.2;

const add = (a: Spot, b: Spot, by = 1): Spot => ({ x: a.x + b.x * by, y: a.y + b.y * by });

function turned(spot: Spot, rad: number): Spot {
  const [c, s] = [Math.cos(rad), Math.sin(rad)];
  return { x: spot.x * c - spot.y * s, y: spot.x * s + spot.y * c };
}

/** Bar, rolls and stacks against the jaw, in the frame of the vise: x along the jaw, y out of its face. */
function barParts(picture: PlanPicture, options: LayoutOptions) {
  const barMm = picture.barLengthMm;
  if (barMm === null) return null;
  const rollMm = picture.rollDiameterMm ?? barMm * 0.1;
  const side = picture.stackEnd === 'left' ? -1 : 1;
  const low = picture.lowRollStackMm ?? 0;
  // Where the blocks are not decided yet, the height follows from the angle.
  const rise = Math.abs(Math.sin(picture.barInViseRad)) * barMm;
  const run = Math.abs(Math.cos(picture.barInViseRad)) * barMm;
  const radius = rollMm / 2;
  const lowRoll = { x: (-side * run) / 2, y: low + radius };
  const highRoll = { x: (side * run) / 2, y: low + rise + radius };
  const along = { x: (side * run) / barMm, y: rise / barMm };
  const out = side > 0 ? { x: -along.y, y: along.x } : { x: along.y, y: -along.x };
  const face = radius + barMm * BAR_BODY;
  const corner = (roll: Spot, beyond: number, outBy: number) =>
    add(add(roll, along, beyond), out, outBy);
  const stack = (roll: Spot, height: number, blocks: readonly number[]) => ({
    x: roll.x,
    height,
    joints: blocks.map((_, index) => blocks.slice(0, index + 1).reduce((sum, mm) => sum + mm, 0)),
    half: Math.max(rollMm * 0.42, 4.5),
  });
  return {
    radius,
    rolls: [lowRoll, highRoll],
    body: [
      corner(lowRoll, -radius * 1.3, radius * 0.2),
      corner(highRoll, radius * 1.3, radius * 0.2),
      corner(highRoll, radius * 1.3, face),
      corner(lowRoll, -radius * 1.3, face),
    ],
    middle: add({ x: (lowRoll.x + highRoll.x) / 2, y: (lowRoll.y + highRoll.y) / 2 }, out, face),
    out,
    stacks: [
      stack(highRoll, low + rise, options.blocksMm),
      ...(low > 0 ? [stack(lowRoll, low, options.lowBlocksMm)] : []),
    ],
    deepest: Math.max(...[lowRoll, highRoll].map((roll) => roll.y)) + face,
  };
}

export function planLayout(picture: PlanPicture, options: LayoutOptions): PlanLayout {
  const width = picture.jawWidthMm;
  const half = width / 2;
  const out = picture.solidJaw === 'rear' ? -1 : 1;
  const bar = barParts(picture, options);
  const opening = Math.max(width * LEAST_OPENING, (bar?.deepest ?? 0) + width * 0.04);
  const front = opening + width * MOVING_DEPTH;
  const back = -width * (SOLID_DEPTH + BACK_RIM);

  /** From the frame of the vise to that of the picture in mm, y away from the operator. */
  const place = (spot: Spot): Spot => turned({ x: spot.x, y: spot.y * out }, picture.jawRad);
  const box = (x0: number, y0: number, x1: number, y1: number): Spot[] =>
    [
      { x: x0, y: y0 },
      { x: x1, y: y0 },
      { x: x1, y: y1 },
      { x: x0, y: y1 },
    ].map(place);

  const shapes: { kind: Outline['kind']; spots: Spot[]; open?: boolean }[] = [
    { kind: 'bed', spots: box(-half, back, half, front) },
    { kind: 'rail', spots: box(-half * 0.56, 0, -half * 0.24, opening) },
    { kind: 'rail', spots: box(half * 0.24, 0, half * 0.56, opening) },
    { kind: 'jaw', spots: box(-half * 0.96, opening, half * 0.96, front) },
    { kind: 'screw', spots: box(-width * 0.05, front, width * 0.05, front + width * 0.05) },
    { kind: 'jaw', spots: box(-half * 0.96, -width * SOLID_DEPTH, half * 0.96, 0) },
    { kind: 'jaw-plate', spots: box(-half * 0.96, -width * PLATE_DEPTH, half * 0.96, 0) },
  ];
  for (const stack of bar?.stacks ?? []) {
    shapes.push({
      kind: 'stack',
      spots: box(stack.x - stack.half, 0, stack.x + stack.half, stack.height),
    });
    for (const joint of stack.joints.slice(0, -1)) {
      shapes.push({
        kind: 'joint',
        open: true,
        spots: [
          place({ x: stack.x - stack.half, y: joint }),
          place({ x: stack.x + stack.half, y: joint }),
        ],
      });
    }
  }
  if (bar !== null) shapes.push({ kind: 'bar', spots: bar.body.map(place) });

  const pivotSide = picture.pivotEnd === 'left' ? -1 : 1;
  const boltY = (-width * SOLID_DEPTH) / 2 - width * PLATE_DEPTH * 0.5;
  const bolts = [-1, 1].map((side) => place({ x: side * width * BOLT_AT, y: boltY }));
  const pivot = bolts[pivotSide < 0 ? 0 : 1]!;
  const touch = place(bar?.middle ?? { x: 0, y: 0 });
  const outward = turned({ x: bar?.out.x ?? 0, y: (bar?.out.y ?? 1) * out }, picture.jawRad);
  const isAlongY = Math.abs(Math.sin(bar === null ? picture.jawRad : picture.barAxisRad)) > 0.7;
  const axisRad = isAlongY ? Math.PI / 2 : 0;
  const reach = width * 1.02;
  const arm = -pivotSide * width * 1.06;
  const malletX = -pivotSide * half * 0.82;
  const turnsLeft = picture.turn === 'counter-clockwise';
  const strikesFromFront = (turnsLeft ? 1 : -1) * -pivotSide > 0;
  const malletIsOut = strikesFromFront === out < 0;
  const mallet = place({
    x: malletX,
    y: malletIsOut ? front + width * 0.015 : back - width * 0.015,
  });

  const sign = turnsLeft ? 1 : -1;
  const sweep = Math.max(Math.abs(picture.jawRad), LEAST_TURN_RAD);
  const armRad = arm > 0 ? 0 : Math.PI;
  const arc = (rad: number, radius = Math.abs(arm)): Spot =>
    add(pivot, turned({ x: radius, y: 0 }, armRad + rad));
  const toRad = picture.jawRad;
  const fromRad = toRad - sign * sweep;
  const hasTurn = picture.turn !== 'none';

  const spots = [
    ...shapes.flatMap((shape) => shape.spots),
    mallet,
    ...(hasTurn
      ? Array.from({ length: 9 }, (_, step) => arc(fromRad + (sign * sweep * step) / 8))
      : []),
    add(touch, outward, width * 0.2),
  ];
  const [left, right] = [
    Math.min(...spots.map(({ x }) => x)),
    Math.max(...spots.map(({ x }) => x)),
  ];
  const [floor, top] = [Math.min(...spots.map(({ y }) => y)), Math.max(...spots.map(({ y }) => y))];
  const pxPerMm = Math.min(
    (options.widthPx - 2 * options.sidePx) / (right - left),
    (options.heightPx - 2 * options.wordPx) / (top - floor),
  );
  const px = (spot: Spot): Spot => ({
    x: options.widthPx / 2 + (spot.x - (left + right) / 2) * pxPerMm,
    y: options.heightPx / 2 - (spot.y - (top + floor) / 2) * pxPerMm,
  });
  const at = (spot: Spot) => `${px(spot).x.toFixed(1)} ${px(spot).y.toFixed(1)}`;
  const path = (corners: Spot[], open = false) => `M${corners.map(at).join('L')}${open ? '' : 'Z'}`;

  /** Above whichever corner of that end lies farthest away. */
  const endSpot = (x: number): Spot => {
    const corners = [place({ x, y: back }), place({ x, y: front })];
    const far = corners.reduce((most, corner) => (corner.y > most.y ? corner : most));
    return add(far, { x: 0, y: width * 0.03 });
  };

  const headRad = Math.min(sweep * 0.55, 20 / (Math.abs(arm) * pxPerMm));
  const neckRad = toRad - sign * headRad;
  const radiusPx = Math.abs(arm) * pxPerMm;
  const band = 8 / pxPerMm;
  const wing = 19 / pxPerMm;
  const flag = sign > 0 ? 0 : 1;
  const armLength = Math.abs(arm);
  const stackEnd = bar?.stacks[0];
  const stackIn =
    stackEnd === undefined
      ? null
      : place({
          x: stackEnd.x - Math.sign(stackEnd.x || 1) * (stackEnd.half + width * 0.03),
          y: stackEnd.height / 2 + (out < 0 ? 0.01 : -0.01) * width,
        });

  return {
    outlines: shapes.map(({ kind, spots: corners, open }) => ({ kind, path: path(corners, open) })),
    rolls: (bar?.rolls ?? []).map((roll) => ({
      at: px(place(roll)),
      radius: (bar?.radius ?? 0) * pxPerMm,
    })),
    bolts: bolts.map(px),
    boltRadius: Math.max(5, width * 0.05 * pxPerMm),
    swivel: {
      at: px(place({ x: 0, y: (back + front) / 2 })),
      radius: (front - back) * 0.62 * pxPerMm,
    },
    pivot: px(pivot),
    axis: {
      from: px(add(touch, turned({ x: 1, y: 0 }, axisRad), -reach)),
      to: px(add(touch, turned({ x: 1, y: 0 }, axisRad), reach)),
      name: isAlongY ? 'Y' : 'X',
    },
    stylus: { tip: px(touch), outDeg: (Math.atan2(-outward.y, outward.x) * 180) / Math.PI },
    mallet: {
      at: px(mallet),
      deg: (-picture.jawRad * 180) / Math.PI + (strikesFromFront ? 0 : 180),
    },
    turn: hasTurn
      ? {
          from: `M${at(pivot)}L${at(arc(fromRad, armLength * 1.06))}`,
          shaft: `M${at(arc(fromRad, armLength + band))}A${radiusPx + 8} ${radiusPx + 8} 0 0 ${flag} ${at(arc(neckRad, armLength + band))}L${at(arc(neckRad, armLength + wing))}L${at(arc(toRad + sign * headRad * 0.35))}L${at(arc(neckRad, armLength - wing))}L${at(arc(neckRad, armLength - band))}A${radiusPx - 8} ${radiusPx - 8} 0 0 ${1 - flag} ${at(arc(fromRad, armLength - band))}Z`,
          head: `M${at(pivot)}L${at(arc(toRad, armLength * 1.06))}`,
          label: px(arc(fromRad + (sign * sweep) / 2, armLength + 26 / pxPerMm)),
          anchor: arm > 0 ? 'start' : 'end',
        }
      : null,
    ends: { left: px(endSpot(-half)), right: px(endSpot(half)) },
    stackWord:
      stackIn === null
        ? null
        : { at: px(stackIn), anchor: picture.stackEnd === 'left' ? 'start' : 'end' },
    pxPerMm,
  };
}

/** A vise that stands straight, for a plan that has no angle yet. */
export function restingPicture(solidJaw: PlanQuestion['jaw']['solid']): PlanPicture {
  return {
    jawRad: 0,
    barInViseRad: 0,
    barAxisRad: 0,
    solidJaw,
    jawWidthMm: 152.4,
    barLengthMm: null,
    rollDiameterMm: null,
    stackEnd: null,
    stackMm: null,
    lowRollStackMm: null,
    endAway: null,
    turn: 'none',
    pivotEnd: 'left',
    malletEnd: 'right',
    indicatorTouches: '',
  };
}

/** The vise at one hand or the other, turned far enough to be told apart at a glance. */
export function handPicture(hand: PlanQuestion['hand'], solidJaw: 'rear' | 'front'): PlanPicture {
  const isRight = hand === 'right-away';
  return {
    ...restingPicture(solidJaw),
    jawRad: isRight ? 0.34 : -0.34,
    endAway: isRight ? 'right' : 'left',
    turn: isRight ? 'counter-clockwise' : 'clockwise',
  };
}
