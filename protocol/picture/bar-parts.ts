import { add, type Spot } from './marks.ts';
import { type FlatBar, PROPORTIONS, type SineBar, type ViseScene } from './vise-scene.ts';

/** Blocks under one roll: where along the jaw, how high, where one block ends and the next begins. */
export interface StackPart {
  alongMm: number;
  heightMm: number;
  halfMm: number;
  jointsMm: number[];
}

/** The bar in the frame of the vise: x along the jaw, y out of the solid jaw's face. */
export interface BarParts {
  body: Spot[];
  rolls: { at: Spot; radiusMm: number }[];
  /** Raised roll first. */
  stacks: StackPart[];
  /** Middle of the face that is swept, and the way out of it. */
  touch: Spot;
  out: Spot;
  /** How far the bar reaches out of the jaw's face. */
  deepestMm: number;
}

/** Narrower than this a stack could not be seen, mm. */
const NARROWEST_STACK_MM = 9;

export function barPartsOf(vise: ViseScene): BarParts {
  const { bar } = vise;
  if (bar === null) return bareJaw();
  return bar.kind === 'flat' ? flatParts(bar, vise.jawWidthMm) : sineParts(bar);
}

function bareJaw(): BarParts {
  return {
    body: [],
    rolls: [],
    stacks: [],
    touch: { x: 0, y: 0 },
    out: { x: 0, y: 1 },
    deepestMm: 0,
  };
}

function flatParts(bar: FlatBar, jawWidthMm: number): BarParts {
  const depth = jawWidthMm * PROPORTIONS.flatBar;
  return {
    ...bareJaw(),
    body: [
      { x: bar.fromMm, y: 0 },
      { x: bar.toMm, y: 0 },
      { x: bar.toMm, y: depth },
      { x: bar.fromMm, y: depth },
    ],
    touch: { x: (bar.fromMm + bar.toMm) / 2, y: depth },
    deepestMm: depth,
  };
}

function sineParts(bar: SineBar): BarParts {
  const { lengthMm, lowStackMm } = bar;
  const rollMm = bar.rollDiameterMm ?? lengthMm * 0.1;
  const radius = rollMm / 2;
  const side = bar.raisedEnd === 'left' ? -1 : 1;
  const rise = Math.abs(Math.sin(bar.tiltRad)) * lengthMm;
  const run = Math.abs(Math.cos(bar.tiltRad)) * lengthMm;
  const lowRoll = { x: (-side * run) / 2, y: lowStackMm + radius };
  const highRoll = { x: (side * run) / 2, y: lowStackMm + rise + radius };
  const along = { x: (side * run) / lengthMm, y: rise / lengthMm };
  const out = side > 0 ? { x: -along.y, y: along.x } : { x: along.y, y: -along.x };
  const face = radius + lengthMm * PROPORTIONS.barBody;
  const corner = (roll: Spot, beyond: number, outBy: number) =>
    add(add(roll, along, beyond), out, outBy);
  const stack = (roll: Spot, heightMm: number, blocks: readonly number[]): StackPart => ({
    alongMm: roll.x,
    heightMm,
    halfMm: Math.max(rollMm * 0.84, NARROWEST_STACK_MM) / 2,
    jointsMm: blocks
      .slice(0, -1)
      .map((_, index) => blocks.slice(0, index + 1).reduce((sum, mm) => sum + mm, 0)),
  });
  return {
    body: [
      corner(lowRoll, -radius * 1.3, radius * 0.2),
      corner(highRoll, radius * 1.3, radius * 0.2),
      corner(highRoll, radius * 1.3, face),
      corner(lowRoll, -radius * 1.3, face),
    ],
    rolls: [lowRoll, highRoll].map((roll) => ({ at: roll, radiusMm: radius })),
    stacks: [
      stack(highRoll, lowStackMm + rise, bar.blocksMm),
      ...(lowStackMm > 0 ? [stack(lowRoll, lowStackMm, bar.lowBlocksMm)] : []),
    ],
    touch: add({ x: (lowRoll.x + highRoll.x) / 2, y: (lowRoll.y + highRoll.y) / 2 }, out, face),
    out,
    deepestMm: Math.max(lowRoll.y, highRoll.y) + face,
  };
}
