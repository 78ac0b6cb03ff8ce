import {
  type BlockSet,
  type Direction,
  type End,
  type PlanAnswer,
  type PlanQuestion,
  radiansFromArcsec,
  type TakenCheck,
} from '@taptrue/protocol';
import { echoAngle } from './angle/echo-angle.ts';
import { jawBudget } from './budget/jaw-budget.ts';
import { cautionsOf, offersOf } from './cautions.ts';
import { directionOf } from './direction.ts';
import { jawFit } from './jaw-fit.ts';
import { limitOf } from './limit.ts';
import { type Planned, type PlanRefusal, refuse } from './plan-fault.ts';
import { type ReadQuestion, readQuestion } from './plan-parts.ts';
import { engravedSteps } from './sets/read-set.ts';
import { type PlannedStacks, planStacks, stackQuestionOf } from './stack/plan-stacks.ts';
import { checkBlocks } from './taken/check-taken.ts';

/** Every block that stands in the stacks, wear pair included, as the budget wants them. */
function standingBlocks(read: ReadQuestion, stacks: PlannedStacks) {
  const set = read.shelf!.set;
  const texts = [stacks.stack, stacks.lowRollStack].flatMap((stack) =>
    stack ? [...stack.blocks, ...stack.wear] : [],
  );
  return texts.map((text) => {
    const steps = engravedSteps(text, set.unit);
    const block = set.blocks.find((one) => engravedSteps(one.size, set.unit) === steps);
    return {
      mm: typeof steps === 'number' ? (set.unit === 'in' ? steps * 0.00127 : steps * 0.0005) : 0,
      grade: block?.grade ?? set.grade ?? null,
      certified: block?.deviationUm !== undefined || block?.deviationUin !== undefined,
    };
  });
}

function pictureOf(
  question: PlanQuestion,
  read: ReadQuestion,
  stacks: PlannedStacks | null,
  direction: Direction,
  pivotEnd: End,
): PlanAnswer['picture'] {
  const axisSign = question.hand === 'right-away' ? 1 : -1;
  const barAxisRad = direction.sweepAxis === 'y' ? (axisSign * Math.PI) / 2 : 0;
  const face = question.jaw.solid === 'rear' ? 'near' : 'far';
  return {
    jawRad: direction.signedJawRad,
    barInViseRad: read.bar ? barAxisRad - direction.signedJawRad : 0,
    barAxisRad,
    solidJaw: question.jaw.solid,
    jawWidthMm: read.drawnJawMm,
    barLengthMm: read.bar?.length.mm ?? null,
    rollDiameterMm: read.bar?.rollMm ?? null,
    stackEnd: direction.stackEnd,
    stackMm: stacks?.stack?.sumMm ?? null,
    lowRollStackMm: stacks?.lowRollStack?.sumMm ?? null,
    endAway: direction.endAway,
    turn: direction.turn,
    pivotEnd,
    malletEnd: pivotEnd === 'left' ? 'right' : 'left',
    indicatorTouches: read.bar
      ? `working face of the bar, ${face} side`
      : `face of the solid jaw, ${face} side`,
  };
}

/**
 * The whole plan: what the Plan place shows, the sheet prints and the sweep takes over. Pure. `pivotEnd`: the
 * clamp the vise of the bench turns about.
 */
export function makePlan(
  question: PlanQuestion,
  sets: readonly BlockSet[],
  pivotEnd: End = 'left',
): { ok: true; answer: PlanAnswer } | PlanRefusal {
  const reading = readQuestion(question, sets);
  if (!reading.ok) return reading;
  const read = reading.value;
  const limited =
    question.tolerance === null
      ? null
      : limitOf(question.tolerance, question.setUpShare, read.written.isWhole);
  if (limited && !limited.ok) return limited;
  const planned = read.bar ? planStacks(question, read) : null;
  if (planned && !planned.ok) return planned;
  const stacks = planned?.value ?? null;
  const limit = limited?.value ?? null;

  const barMm = read.bar?.length.mm ?? null;
  const barRad = read.barArcsec === null ? 0 : radiansFromArcsec(read.barArcsec);
  const direction = directionOf({
    angleArcsec: read.angleArcsec,
    hand: question.hand,
    solidJaw: question.jaw.solid,
    way: read.way,
  });
  const fit = read.bar
    ? jawFit(read.bar.length.mm, read.bar.rollMm, barRad, read.jawMm, question.displayUnit)
    : null;
  // The complement turns the sign: a bar set too steep leaves the jaw short of its angle.
  const sense = read.way === 'complement' ? -1 : 1;
  const errorArcsec = stacks?.errorArcsec == null ? null : sense * stacks.errorArcsec;
  const isComplete = read.bar === null || stacks?.stack !== null;
  // At 90 degrees against the jaw a sine bar has no sensitivity left that a budget could state.
  const hasBudget = isComplete && barRad < Math.PI / 2 - 1e-9;
  return {
    ok: true,
    answer: {
      way: read.way,
      hand: question.hand,
      written: read.written,
      angle: echoAngle(read.angleArcsec, barMm),
      barAngle: read.barArcsec === null ? null : echoAngle(read.barArcsec, barMm),
      exactHeightMm: stacks?.exactHeightMm ?? null,
      targetMm: stacks?.targetMm ?? null,
      targetText: stacks?.targetText ?? null,
      leftoverMm: stacks?.leftoverMm ?? null,
      stack: stacks?.stack ?? null,
      lowRollStack: stacks?.lowRollStack ?? null,
      below: stacks?.below ?? null,
      above: stacks?.above ?? null,
      angleSetDeg: errorArcsec === null ? null : (read.angleArcsec + errorArcsec) / 3600,
      angleErrorArcsec: errorArcsec,
      direction,
      jawFit: fit,
      toleranceArcsec: limit?.toleranceArcsec ?? null,
      limit: limit?.limit ?? null,
      limitSentence:
        limit?.sentence ?? 'No tolerance is given: the sweep keeps the limit of the bench.',
      targetSlope: read.way === 'sweep the jaw' ? Math.tan(direction.signedJawRad) : 0,
      budget: hasBudget
        ? jawBudget({
            barRad,
            barMm,
            barUnit: read.bar?.length.unit ?? 'mm',
            barCertifiedMm: read.bar?.certifiedMm ?? null,
            blocks: stacks ? standingBlocks(read, stacks) : [],
            setUnit: read.shelf?.set.unit ?? 'mm',
            sweptMm: read.sweptMm,
            jawMm: read.drawnJawMm,
            sweepAxis: direction.sweepAxis,
            offsetArcsec: errorArcsec ?? 0,
            toleranceArcsec: limit?.toleranceArcsec ?? null,
            known: question.budget,
          })
        : null,
      offers: offersOf(question, read, stacks),
      cautions: cautionsOf(
        question,
        read,
        stacks,
        limit === null ? null : limit.toleranceArcsec * question.setUpShare,
        fit?.fits === false ? fit.sentence : null,
      ),
      picture: pictureOf(question, read, stacks, direction, pivotEnd),
    },
  };
}

/** Steps that the re-add of a plan is held against, by stack. */
function plannedSteps(read: ReadQuestion, stack: NonNullable<PlannedStacks['stack']>): number[] {
  return [...stack.wear, ...stack.blocks].map((text) => {
    const steps = engravedSteps(text, read.shelf!.set.unit);
    return typeof steps === 'number' ? steps : 0;
  });
}

/**
 * The independent re-add of a plan: the blocks actually taken, wear pair included, in any order, as
 * engraved. `which`: the stack under the raised roll, or with blocks under both the one under the other.
 */
export function checkTaken(
  question: PlanQuestion,
  sets: readonly BlockSet[],
  taken: readonly string[],
  which: 'stack' | 'low roll' = 'stack',
): Planned<TakenCheck> {
  const reading = readQuestion(question, sets);
  if (!reading.ok) return reading;
  const read = reading.value;
  if (read.bar === null)
    return refuse('taken', 'no-stack', 'This plan has no stack.', '', 'Go on to the sweep.');
  const stacks = planStacks(question, read);
  if (!stacks.ok) return stacks;
  const stack = which === 'stack' ? stacks.value.stack : stacks.value.lowRollStack;
  if (stack === null)
    return refuse(
      'taken',
      'no-stack',
      'The stack of this plan is not decided yet.',
      '',
      'Pick the nearest height, another set, or blocks under both rolls.',
    );
  const planned = plannedSteps(read, stack);
  const asked = stackQuestionOf(read);
  // With blocks under both rolls one stack alone makes no angle.
  const alone = read.way === 'both rolls' ? { ...asked, barMm: null, wantedRad: null } : asked;
  return checkBlocks(
    alone,
    taken,
    planned,
    read.bar.length.unit,
    planned.reduce((sum, size) => sum + size, 0),
  );
}
