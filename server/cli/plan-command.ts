import { writeFile } from 'node:fs/promises';
import { faultLine, type PlanAnswer } from '@taptrue/protocol';
import { makePlan } from '../plan/make-plan.ts';
import { findPrinter, printPdf } from '../plan/print-pdf.ts';
import { setupSheet } from '../plan/sheet/setup-sheet.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { PLAN_HELP, type PlanOptions, readPlanOptions } from './plan-options.ts';
import { planned } from './plan-refusal.ts';
import { whyNotWritten } from './why-not-written.ts';

function report(answer: PlanAnswer): string {
  const lines = [answer.written.sentence, answer.direction.sentence, ''];
  for (const { name, text } of answer.angle.lines) lines.push(`  ${name.padEnd(28)}${text}`);
  const stackLine = (name: string, stack: PlanAnswer['stack']) => {
    if (stack)
      lines.push(
        `  ${name.padEnd(28)}${[...stack.wear, ...stack.blocks].join(' + ')} = ${stack.sumText} ${stack.unit}`,
      );
  };
  stackLine('stack', answer.stack);
  stackLine('under the low roll', answer.lowRollStack);
  if (answer.barAngle && !answer.stack)
    lines.push(`  ${'stack'.padEnd(28)}${answer.targetText} cannot be built from this set`);
  if (answer.jawFit) lines.push(`  ${'jaw'.padEnd(28)}${answer.jawFit.sentence}`);
  lines.push(`  ${'limit'.padEnd(28)}${answer.limitSentence}`);
  if (answer.budget) lines.push(`  ${'how good it can be'.padEnd(28)}${answer.budget.sentence}`);
  if (answer.offers.length > 0)
    lines.push(
      '',
      'To decide:',
      ...answer.offers.map(
        (offer) => `  --${offer.decision} ${offer.choice.replaceAll(' ', '-')}  ${offer.text}`,
      ),
    );
  if (answer.cautions.length > 0)
    lines.push('', 'Mind:', ...answer.cautions.map((caution) => `  - ${caution.text}`));
  return lines.join('\n');
}

async function writeSheet(options: PlanOptions, answer: PlanAnswer, file: string): Promise<void> {
  const html = setupSheet(
    options.question,
    answer,
    options.paper,
    new Date().toISOString().slice(0, 10),
  );
  if (/\.pdf$/i.test(file)) {
    const printed = await printPdf(html, file, findPrinter(process.env, process.platform));
    if (!printed.ok) throw new Refusal(faultLine(printed.fault));
    return;
  }
  try {
    await writeFile(file, html);
  } catch (error) {
    throw new Refusal(
      `--sheet: ${file} cannot be written: ${whyNotWritten(error)}. Name a place you may write to.`,
    );
  }
}

async function run(args: string[], terminal: Terminal): Promise<number> {
  const options = await readPlanOptions(args);
  const made = makePlan(options.question, options.sets);
  const answer = planned(made.ok ? { ok: true, value: made.answer } : made);
  if (options.sheet !== null) await writeSheet(options, answer, options.sheet);
  terminal.out(options.json ? JSON.stringify(answer, null, 2) : report(answer));
  if (options.sheet !== null && !options.json) terminal.out(`\nSetup sheet: ${options.sheet}`);
  return answer.barAngle !== null && answer.stack === null ? EXIT.notTrue : EXIT.done;
}

export const planCommand: CliCommand = {
  name: 'plan',
  summary: 'plans an angle from the print and prints its setup sheet',
  help: PLAN_HELP,
  run,
};
