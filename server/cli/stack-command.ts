import { MM_PER_INCH, type TakenCheck } from '@taptrue/protocol';
import { dmsText } from '../plan/angle/echo-angle.ts';
import { engravedSteps } from '../plan/sets/read-set.ts';
import { buildStack, measured, type StackAnswer, targetOf } from '../plan/stack/build-stack.ts';
import { checkBlocks } from '../plan/taken/check-taken.ts';
import { type CliCommand, EXIT, type Terminal } from './command.ts';
import { planned } from './plan-refusal.ts';
import { readStackOptions, STACK_HELP, type StackOptions } from './stack-options.ts';

function describe(options: StackOptions, answer: StackAnswer) {
  const { shelf } = options.question;
  const { stack } = answer;
  return {
    set: shelf.set.id,
    setFromMemory: shelf.set.fromMemory,
    unit: shelf.set.unit,
    exactHeightMm: answer.exactMm,
    targetMm: answer.targetMm,
    targetIn: answer.targetMm / MM_PER_INCH,
    targetText: answer.targetText,
    blocks: stack?.blocks ?? null,
    wear: stack?.wear ?? [],
    sumMm: stack?.sumMm ?? null,
    sumIn: stack?.sumIn ?? null,
    sumText: stack?.sumText ?? null,
    trueSumMm: stack?.trueSumMm ?? null,
    leftoverMm: answer.leftoverMm,
    angleSetDeg: answer.angleSetDeg,
    angleErrorArcsec: answer.angleErrorArcsec,
    alternatives: stack?.alternatives ?? [],
    alternativesCut: stack?.alternativesCut ?? false,
    worked: stack?.worked ?? [],
    below: answer.below,
    above: answer.above,
  };
}

function angleWords(deg: number | null, errorArcsec: number | null): string {
  if (deg === null) return '';
  const off =
    errorArcsec === null
      ? ''
      : `, ${Math.abs(errorArcsec).toFixed(1)}″ ${errorArcsec < 0 ? 'less' : 'more'} than wanted`;
  return `${dmsText(deg * 3600)}${off}`;
}

/** Alternatives printed without --json; the rest are counted. */
const PRINTED_ALTERNATIVES = 10;

function report(options: StackOptions, answer: StackAnswer): string {
  const unit = options.question.shelf.set.unit;
  const { stack } = answer;
  const lines: string[] = [];
  if (stack) {
    lines.push(
      `${stack.blocks.join(' + ')} = ${stack.sumText} ${unit}${stack.wear.length > 0 ? ` with a wear pair of ${stack.wear[0]} outside` : ''}`,
    );
    lines.push('', 'From the last decimal up:');
    for (const step of stack.worked)
      lines.push(`  ${step.from} less ${step.take} leaves ${step.leaves}`);
    const angle = angleWords(answer.angleSetDeg, answer.angleErrorArcsec);
    lines.push(
      '',
      `Left over: ${((answer.leftoverMm ?? 0) * 1000).toFixed(3)} µm.${angle ? ` Sets ${angle}.` : ''}`,
    );
    if (stack.alternatives.length > 0) {
      lines.push(
        `Others of as few blocks (${stack.alternatives.length}${stack.alternativesCut ? ', and more' : ''}):`,
      );
      for (const one of stack.alternatives.slice(0, PRINTED_ALTERNATIVES))
        lines.push(`  ${one.join(' + ')}`);
      const rest = stack.alternatives.length - PRINTED_ALTERNATIVES;
      if (rest > 0) lines.push(`  and ${rest} more; --json lists them`);
    }
  } else {
    lines.push(
      `${answer.targetText} ${unit} cannot be built from ${options.question.shelf.set.id}. The nearest:`,
    );
    for (const [name, near] of [
      ['below', answer.below],
      ['above', answer.above],
    ] as const) {
      if (near)
        lines.push(
          `  ${name}  ${near.blocks.join(' + ')} = ${near.sumText} ${unit}  ${angleWords(near.angleDeg, near.angleErrorArcsec)}`.trimEnd(),
        );
      else lines.push(`  ${name}  none`);
    }
  }
  if (options.question.shelf.set.fromMemory)
    lines.push('', 'No document was seen that lists this set: compare it with the case.');
  return lines.join('\n');
}

/**
 * The keyed list, with the wear pair added where it is not in the list already: with --wear both ways of
 * writing one stack are taken.
 */
function withWear(options: StackOptions, texts: readonly string[], targetSteps: number): string[] {
  const { wearSteps, shelf } = options.question;
  if (wearSteps === null) return [...texts];
  const steps = texts.map((text) => engravedSteps(text, shelf.set.unit));
  const sum = steps.reduce<number>((total, one) => total + (typeof one === 'number' ? one : 0), 0);
  const holdsPair = steps.filter((one) => one === wearSteps).length >= 2;
  if (holdsPair && sum === targetSteps) return [...texts];
  const wear = String(wearSteps / (shelf.set.unit === 'in' ? 20_000 : 2_000));
  return [wear, wear, ...texts];
}

function checkReport(options: StackOptions, texts: readonly string[], check: TakenCheck) {
  const { question } = options;
  const target = targetOf(question);
  const found = measured({ sumMm: check.sumMm, trueSumMm: check.sumMm }, target.exactMm, question);
  return {
    set: question.shelf.set.id,
    unit: question.shelf.set.unit,
    adds: check.adds,
    targetMm: target.mm,
    targetIn: target.mm / MM_PER_INCH,
    targetText: target.text,
    blocks: texts,
    wear: question.wearSteps === null ? [] : withWear(options, [], target.steps),
    sumMm: check.sumMm,
    sumIn: check.sumIn,
    sumText: check.sumText,
    leftoverMm: found.leftoverMm,
    differenceMm: check.differenceMm,
    angleSetDeg: check.angleMadeDeg,
    angleErrorArcsec: check.angleErrorArcsec,
    alternatives: [],
    slips: check.slips,
    sentence: check.sentence,
  };
}

function runCheck(options: StackOptions, texts: readonly string[], terminal: Terminal): number {
  const { question } = options;
  const target = targetOf(question);
  const built = buildStack(question);
  const unit = question.shelf.set.unit;
  const names =
    built.ok && built.value.stack ? [...built.value.stack.wear, ...built.value.stack.blocks] : [];
  const steps = names
    .map((text) => engravedSteps(text, unit))
    .filter((one) => typeof one === 'number');
  const check = planned(
    checkBlocks(question, withWear(options, texts, target.steps), steps, options.barUnit),
  );
  terminal.out(
    options.json ? JSON.stringify(checkReport(options, texts, check), null, 2) : check.sentence,
  );
  return check.adds ? EXIT.done : EXIT.notTrue;
}

async function run(args: string[], terminal: Terminal): Promise<number> {
  const options = await readStackOptions(args);
  if (options.check) return runCheck(options, options.check, terminal);
  const answer = planned(buildStack(options.question));
  terminal.out(
    options.json ? JSON.stringify(describe(options, answer), null, 2) : report(options, answer),
  );
  return answer.stack ? EXIT.done : EXIT.notTrue;
}

export const stackCommand: CliCommand = {
  name: 'stack',
  summary: 'picks gauge blocks for an angle or a height, or checks a stack',
  help: STACK_HELP,
  run,
};
