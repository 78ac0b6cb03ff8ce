import {
  type BuiltStack,
  type NearStack,
  type PlanQuestion,
  radiansFromArcsec,
} from '@taptrue/protocol';
import { FM_PER_STEP, mmOfSteps, readSize } from '../exact-length.ts';
import { type Planned, refuse } from '../plan-fault.ts';
import type { ReadQuestion } from '../plan-parts.ts';
import { readBlock } from '../sets/shelf.ts';
import {
  angleOfHeight,
  buildStack,
  describeStack,
  measured,
  type StackQuestion,
  targetOf,
} from './build-stack.ts';
import { pickDifference, pickTwoStacks } from './pick-two.ts';

/** The stack or stacks of a plan, as the answer carries them. */
export interface PlannedStacks {
  exactHeightMm: number;
  targetMm: number;
  targetText: string;
  targetSteps: number;
  stack: BuiltStack | null;
  lowRollStack: BuiltStack | null;
  below: NearStack | null;
  above: NearStack | null;
  leftoverMm: number | null;
  angleSetBarDeg: number | null;
  /** Of the bar against the jaw: set less wanted. */
  errorArcsec: number | null;
}

/** What the picker is asked for this plan. Only where a bar is used. */
export function stackQuestionOf(read: ReadQuestion): StackQuestion {
  const wantedRad = radiansFromArcsec(read.barArcsec!);
  const barMm = read.bar!.length.mm;
  return {
    shelf: read.shelf!,
    wearSteps: read.wearSteps,
    barMm,
    wantedRad,
    height: { kind: 'from angle', mm: barMm * Math.sin(wantedRad) },
  };
}

/** Fewest blocks under both rolls together; the low one as high as asked, where that was said. */
function pickBoth(
  question: StackQuestion,
  differenceSteps: number,
  lowText: string,
): Planned<{ low: number[]; high: number[] } | null> {
  const { sizes, set } = question.shelf;
  if (lowText === '') return { ok: true, value: pickDifference(sizes, differenceSteps) };
  const low = readSize('low stack', lowText);
  if (!low.ok) return low;
  const step = FM_PER_STEP[set.unit];
  const lowSteps = low.value.fm % step === 0n ? Number(low.value.fm / step) : null;
  const two = lowSteps === null ? null : pickTwoStacks(sizes, lowSteps + differenceSteps, lowSteps);
  if (two === null)
    return refuse(
      'low stack',
      'low-stack-not-built',
      'This height under the other roll, and the one that goes with it, cannot be built at once from the set.',
      `"${lowText}"`,
      'Give another height, or leave it empty for the fewest blocks.',
    );
  return { ok: true, value: { low: two.second, high: two.first } };
}

function bothRolls(question: StackQuestion, lowText: string): Planned<PlannedStacks> {
  const plain: StackQuestion = { ...question, wearSteps: null };
  const target = targetOf(plain);
  if (target.steps <= 0)
    return refuse(
      'angle',
      'height-too-small',
      'The difference is less than the set can resolve.',
      `${target.exactMm.toFixed(5)} mm`,
      'Sweep the jaw itself to its slope.',
    );
  const picked = pickBoth(plain, target.steps, lowText);
  if (!picked.ok) return picked;
  const two = picked.value;
  if (two === null)
    return refuse(
      'set',
      'difference-not-built',
      'No two stacks of this set differ by that height.',
      `${target.text} ${plain.shelf.set.unit}`,
      'Take a finer set, or sweep the jaw itself to its slope.',
    );
  // One wear pair under each roll cancels in the difference.
  const high = describeStack(question, two.high, [], false);
  const low = describeStack(question, two.low, [], false);
  const difference = { sumMm: target.mm, trueSumMm: high.trueSumMm - low.trueSumMm };
  const found = measured(difference, target.exactMm, plain);
  return {
    ok: true,
    value: {
      exactHeightMm: target.exactMm,
      targetMm: target.mm,
      targetText: target.text,
      targetSteps: target.steps,
      stack: high,
      lowRollStack: low,
      below: null,
      above: null,
      leftoverMm: found.leftoverMm,
      angleSetBarDeg: found.angleSetDeg,
      errorArcsec: found.angleErrorArcsec,
    },
  };
}

/** The stacks of a plan; where the height cannot be built, the nearest either side, and the one decided on. */
export function planStacks(question: PlanQuestion, read: ReadQuestion): Planned<PlannedStacks> {
  const asked = stackQuestionOf(read);
  if (read.way === 'both rolls') return bothRolls(asked, question.lowStack?.trim() ?? '');
  const built = buildStack(asked);
  if (!built.ok) return built;
  const { value } = built;
  const base = {
    exactHeightMm: value.exactMm,
    targetMm: value.targetMm,
    targetText: value.targetText,
    targetSteps: value.targetSteps,
    stack: value.stack,
    lowRollStack: null,
    below: value.below,
    above: value.above,
    leftoverMm: value.leftoverMm,
    angleSetBarDeg: value.angleSetDeg,
    errorArcsec: value.angleErrorArcsec,
  };
  const chosen = question.decisions.nearest === null ? null : value[question.decisions.nearest];
  if (value.stack !== null || chosen === null) return { ok: true, value: base };
  const sizes = chosen.blocks.map((text) => {
    const block = readBlock(asked.shelf.set, 'set', text);
    return block.ok ? block.value : 0;
  });
  const stack = describeStack(asked, sizes, [], false);
  const angle = angleOfHeight(stack.trueSumMm, asked.barMm, asked.wantedRad);
  const pairSteps = 2 * (asked.wearSteps ?? 0);
  const targetSteps = pairSteps + sizes.reduce((sum, size) => sum + size, 0);
  return {
    ok: true,
    value: {
      ...base,
      stack,
      targetSteps,
      targetText: stack.sumText,
      targetMm: mmOfSteps(targetSteps, asked.shelf.set.unit),
      leftoverMm: value.exactMm - stack.sumMm,
      angleSetBarDeg: angle.deg,
      errorArcsec: angle.errorArcsec,
    },
  };
}
