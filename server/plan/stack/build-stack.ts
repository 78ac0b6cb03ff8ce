import { arcsecFromRadians, type BuiltStack, type NearStack } from '@taptrue/protocol';
import {
  FM_PER_STEP,
  inOfSteps,
  mmOfFm,
  mmOfSteps,
  STEP_TEXT,
  stepsText,
} from '../exact-length.ts';
import { type Planned, refuse } from '../plan-fault.ts';
import { deviationUmOf, engravedSteps } from '../sets/read-set.ts';
import { engraved, type Shelf } from '../sets/shelf.ts';
import { pickStack } from './pick-stack.ts';

/** The height wanted: from an angle it is rounded to what the set can resolve, as a length it is exact. */
export type Height = { kind: 'from angle'; mm: number } | { kind: 'exact'; fm: bigint };

export interface StackQuestion {
  shelf: Shelf;
  /** Size of one of the wear pair, steps; null: none. The pair is not of the set. */
  wearSteps: number | null;
  height: Height;
  barMm: number | null;
  /** Angle wanted between bar and jaw, radians; null: only a height was asked for. */
  wantedRad: number | null;
}

export interface StackAnswer {
  exactMm: number;
  /** Wear pair included. Whole unless an exact height lies between the steps. */
  targetSteps: number;
  targetMm: number;
  targetText: string;
  stack: BuiltStack | null;
  below: NearStack | null;
  above: NearStack | null;
  leftoverMm: number | null;
  angleSetDeg: number | null;
  angleErrorArcsec: number | null;
}

/** Angle a height makes on the bar, and how far that is from the one wanted. */
export function angleOfHeight(heightMm: number, barMm: number | null, wantedRad: number | null) {
  if (barMm === null || heightMm > barMm * (1 + 1e-12)) return { deg: null, errorArcsec: null };
  const rad = Math.asin(Math.min(1, heightMm / barMm));
  return {
    deg: (rad * 180) / Math.PI,
    errorArcsec: wantedRad === null ? null : arcsecFromRadians(rad - wantedRad),
  };
}

/** Certified deviations of the blocks, mm. */
export function deviationMm(shelf: Shelf, steps: readonly number[]): number {
  let um = 0;
  for (const size of steps) {
    const block = shelf.set.blocks.find((one) => engravedSteps(one.size, shelf.set.unit) === size);
    if (block) um += deviationUmOf(block);
  }
  return um / 1000;
}

/** Steps of the height wanted, and the text it is spoken of by. */
export function targetOf(question: StackQuestion): {
  steps: number;
  mm: number;
  text: string;
  exactMm: number;
} {
  const { shelf, height } = question;
  const unit = shelf.set.unit;
  if (height.kind === 'exact') {
    const steps = Number(height.fm) / Number(FM_PER_STEP[unit]);
    const isWhole = height.fm % FM_PER_STEP[unit] === 0n;
    const mm = mmOfFm(height.fm);
    const inUnit = unit === 'in' ? mm / 25.4 : mm;
    return {
      steps,
      mm,
      exactMm: mm,
      text: isWhole ? stepsText(steps, unit) : String(Number(inUnit.toFixed(7))),
    };
  }
  const wear = 2 * (question.wearSteps ?? 0);
  const exactSteps = height.mm / mmOfSteps(1, unit);
  const steps =
    wear + Math.round((exactSteps - wear) / shelf.resolutionSteps) * shelf.resolutionSteps;
  return { steps, mm: mmOfSteps(steps, unit), exactMm: height.mm, text: stepsText(steps, unit) };
}

function workedSum(total: number, order: readonly number[], shelf: Shelf): BuiltStack['worked'] {
  let left = total;
  return order.map((size) => {
    const from = stepsText(left, shelf.set.unit);
    left -= size;
    return { from, take: engraved(shelf.set, size), leaves: stepsText(left, shelf.set.unit) };
  });
}

/** Blocks and wear pair as they are shown. */
export function describeStack(
  question: StackQuestion,
  stack: readonly number[],
  alternatives: readonly number[][],
  cut: boolean,
): BuiltStack {
  const { shelf, wearSteps } = question;
  const unit = shelf.set.unit;
  const pair = wearSteps === null ? [] : [wearSteps, wearSteps];
  const steps = [...pair, ...stack].reduce((sum, size) => sum + size, 0);
  const names = (sizes: readonly number[]) => sizes.map((size) => engraved(shelf.set, size));
  return {
    blocks: names(stack),
    wear: pair.map((size) => stepsText(size, unit)),
    unit,
    sumText: stepsText(steps, unit),
    sumMm: mmOfSteps(steps, unit),
    sumIn: inOfSteps(steps, unit),
    trueSumMm: mmOfSteps(steps, unit) + deviationMm(shelf, stack),
    worked: workedSum(steps, [...pair, ...stack], shelf),
    alternatives: alternatives.map(names),
    alternativesCut: cut,
  };
}

function describeNear(question: StackQuestion, stack: readonly number[] | null): NearStack | null {
  if (stack === null) return null;
  const described = describeStack(question, stack, [], false);
  const angle = angleOfHeight(described.trueSumMm, question.barMm, question.wantedRad);
  return {
    blocks: described.blocks,
    wear: described.wear,
    sumMm: described.sumMm,
    sumIn: described.sumIn,
    sumText: described.sumText,
    angleDeg: angle.deg,
    angleErrorArcsec: angle.errorArcsec,
  };
}

/** One stack for one height: the blocks, or the nearest heights either side with the angle each gives. */
export function buildStack(question: StackQuestion): Planned<StackAnswer> {
  const { shelf } = question;
  const target = targetOf(question);
  const forBlocks = target.steps - 2 * (question.wearSteps ?? 0);
  if (target.steps <= 0) {
    return refuse(
      'height',
      'height-too-small',
      'The height is less than the set can resolve.',
      `${target.exactMm.toFixed(5)} mm`,
      'Sweep the jaw itself to its slope, or straight for 0 degrees.',
    );
  }
  if (forBlocks < 0 || (forBlocks === 0 && question.wearSteps !== null)) {
    return refuse(
      'wear',
      'wear-too-thick',
      'The wear pair alone is as thick as the stack, or thicker.',
      `a stack of ${target.text} ${shelf.set.unit}`,
      'Leave the wear pair out, or take a thinner one.',
    );
  }
  const picked = pickStack(shelf.sizes, forBlocks);
  if (picked.kind === 'too fine') {
    return refuse(
      'set',
      'set-too-fine',
      'The set is too finely divided to search at this height.',
      `${shelf.sizes.length} blocks in steps of ${STEP_TEXT[shelf.set.unit]}`,
      'Take a part of the set.',
    );
  }
  const base = {
    exactMm: target.exactMm,
    targetSteps: target.steps,
    targetMm: target.mm,
    targetText: target.text,
  };
  if (picked.kind === 'not to be built') {
    return {
      ok: true,
      value: {
        ...base,
        stack: null,
        below: describeNear(question, picked.below),
        above: describeNear(question, picked.above),
        leftoverMm: null,
        angleSetDeg: null,
        angleErrorArcsec: null,
      },
    };
  }
  const { stack: blocks, alternatives, cut } = picked.picked;
  const stack = describeStack(question, blocks, alternatives, cut);
  return {
    ok: true,
    value: {
      ...base,
      ...measured(stack, target.exactMm, question),
      stack,
      below: null,
      above: null,
    },
  };
}

/** Leftover and angle of a described stack. An exact height on whole steps leaves exactly nothing. */
export function measured(
  stack: { sumMm: number; trueSumMm: number },
  exactMm: number,
  question: StackQuestion,
) {
  const angle = angleOfHeight(stack.trueSumMm, question.barMm, question.wantedRad);
  const leftoverMm = exactMm - stack.sumMm;
  return {
    leftoverMm: Math.abs(leftoverMm) < 1e-12 ? 0 : leftoverMm,
    angleSetDeg: angle.deg,
    angleErrorArcsec: angle.errorArcsec,
  };
}
