import type { LengthUnit, Slip, TakenCheck } from '@taptrue/protocol';
import { dmsText } from '../angle/echo-angle.ts';
import { inOfSteps, mmOfSteps, stepsText } from '../exact-length.ts';
import { type Planned, refuse } from '../plan-fault.ts';
import { engravedSteps } from '../sets/read-set.ts';
import { readBlock } from '../sets/shelf.ts';
import { STANDARD_SETS } from '../sets/standard-sets.ts';
import { angleOfHeight, deviationMm, type StackQuestion, targetOf } from '../stack/build-stack.ts';
import { findSlips, lessThose } from './slips.ts';

/** Blocks keyed at most; nobody wrings more. */
export const MOST_TAKEN = 40;

const sum = (sizes: readonly number[]) => sizes.reduce((total, size) => total + size, 0);

/** A size that this set has not, but a standard set of the other unit has. */
function isOfOtherUnit(text: string, unit: LengthUnit): boolean {
  return STANDARD_SETS.some(
    (set) =>
      set.unit !== unit &&
      set.blocks.some((block) => {
        const steps = engravedSteps(text, set.unit);
        return typeof steps === 'number' && steps === engravedSteps(block.size, set.unit);
      }),
  );
}

/** Blocks that cannot have come out of this set: not in it, struck off, or more often than it has them. */
function strangers(
  question: StackQuestion,
  taken: readonly number[],
  texts: readonly string[],
): Slip[] {
  const { shelf, wearSteps } = question;
  const pair = wearSteps === null ? [] : [wearSteps, wearSteps];
  return lessThose(taken, [...shelf.sizes, ...pair]).map((steps) => {
    const text = stepsText(steps, shelf.set.unit);
    const written = texts[taken.indexOf(steps)]!.trim();
    const none = { angleDeg: null, angleErrorArcsec: null };
    if (shelf.sizes.includes(steps))
      return {
        code: 'block-twice',
        text: `${text} is keyed more often than the set has it.`,
        ...none,
      };
    if (isOfOtherUnit(written, shelf.set.unit)) {
      const [is, not] =
        shelf.set.unit === 'mm'
          ? ['an inch block', 'a metric set']
          : ['a metric block', 'an inch set'];
      return {
        code: 'inch-and-metric-mixed',
        text: `${written} is ${is}, and ${shelf.set.id} is ${not}.`,
        ...none,
      };
    }
    return {
      code: 'block-not-in-set',
      text: `${text} is not in ${shelf.set.id}, or is struck off.`,
      ...none,
    };
  });
}

/**
 * Adds the blocks actually taken, wear pair included, and holds the sum against the height of the plan.
 * `planned`: the stack of the plan, steps, wear pair included. Where `target` was moved to the nearest
 * height, give its steps. Sums are whole steps: nothing is rounded.
 */
export function checkBlocks(
  question: StackQuestion,
  takenTexts: readonly string[],
  planned: readonly number[],
  barUnit: LengthUnit | null,
  targetSteps = targetOf(question).steps,
): Planned<TakenCheck> {
  const { shelf } = question;
  const unit = shelf.set.unit;
  if (takenTexts.length === 0)
    return refuse(
      'taken',
      'no-blocks',
      'No block was keyed.',
      '',
      'Key every block of the stack as engraved, in any order.',
    );
  if (takenTexts.length > MOST_TAKEN)
    return refuse(
      'taken',
      'too-many-blocks',
      `More than ${MOST_TAKEN} blocks were keyed.`,
      String(takenTexts.length),
      'Key one stack.',
    );
  const taken: number[] = [];
  const readTexts: string[] = [];
  const unread: Slip[] = [];
  for (const text of takenTexts) {
    const read = readBlock(shelf.set, 'taken', text);
    // One that cannot be read is named by itself; the others are added up all the same.
    if (!read.ok) {
      unread.push({
        code: read.fault.code,
        text: `${read.fault.what} ${read.fault.remedy}`,
        angleDeg: null,
        angleErrorArcsec: null,
      });
      continue;
    }
    taken.push(read.value);
    readTexts.push(text);
  }
  const steps = sum(taken);
  const sumMm = mmOfSteps(steps, unit);
  const angle = angleOfHeight(
    sumMm + deviationMm(shelf, taken),
    question.barMm,
    question.wantedRad,
  );
  const foreign = strangers(question, taken, readTexts);
  const adds = steps === targetSteps && foreign.length === 0 && unread.length === 0;
  const slips = adds
    ? []
    : [
        ...unread,
        ...foreign.map((slip) => ({
          ...slip,
          angleDeg: angle.deg,
          angleErrorArcsec: angle.errorArcsec,
        })),
        ...(steps === targetSteps
          ? []
          : findSlips({
              unit,
              taken,
              sizes: shelf.sizes,
              planned,
              wearSteps: question.wearSteps,
              targetSteps,
              resolutionSteps: shelf.resolutionSteps,
              barMm: question.barMm,
              barUnit,
              wantedRad: question.wantedRad,
            })),
      ];
  const wantedText = Number.isInteger(targetSteps)
    ? stepsText(targetSteps, unit)
    : targetOf(question).text;
  const check = {
    adds,
    sumMm,
    sumIn: inOfSteps(steps, unit),
    sumText: stepsText(steps, unit),
    wantedText,
    differenceMm: sumMm - mmOfSteps(targetSteps, unit),
    angleMadeDeg: angle.deg,
    angleErrorArcsec: angle.errorArcsec,
    slips,
  };
  return { ok: true, value: { ...check, sentence: sentenceOf(check, unit, steps - targetSteps) } };
}

function sentenceOf(
  check: Omit<TakenCheck, 'sentence'>,
  unit: LengthUnit,
  offSteps: number,
): string {
  if (check.adds) return `The blocks add up: ${check.sumText} ${unit}.`;
  if (offSteps === 0)
    return `The sum is right, ${check.sumText} ${unit}, but ${check.slips.map((slip) => slip.text).join(' ')}`;
  const off = `${stepsText(Math.abs(Math.round(offSteps)), unit)} too ${offSteps > 0 ? 'much' : 'little'}`;
  const made =
    check.angleMadeDeg === null
      ? ''
      : ` It would make ${dmsText(check.angleMadeDeg * 3600)}${check.angleErrorArcsec === null ? '' : `, ${dmsText(Math.abs(check.angleErrorArcsec))} ${check.angleErrorArcsec > 0 ? 'more' : 'less'} than wanted`}.`;
  const why =
    check.slips.length > 0
      ? ` ${check.slips.map((slip) => slip.text).join(' ')}`
      : ' Take the stack apart and read every block again.';
  return `The blocks add up to ${check.sumText} ${unit}, not ${check.wantedText}: ${off}.${made}${why}`;
}
