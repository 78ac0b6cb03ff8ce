import { makePlan } from '../plan/make-plan.ts';
import { budgetLines } from './budget-lines.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { BUDGET_HELP, readPlanOptions } from './plan-options.ts';
import { planned } from './plan-refusal.ts';

async function run(args: string[], terminal: Terminal): Promise<number> {
  const options = await readPlanOptions(args);
  if (options.sheet !== null)
    throw new Refusal(
      '--sheet: budget writes no sheet. taptrue plan --sheet does, and says how good it can be.',
    );
  const made = makePlan(options.question, options.sets);
  const answer = planned(made.ok ? { ok: true, value: made.answer } : made);
  if (answer.budget === null) {
    if (answer.barAngle !== null && answer.stack === null) {
      terminal.err(
        `The stack for ${answer.targetText} cannot be built from this set. ${answer.offers.map((offer) => offer.text).join(' ')}`,
      );
      return EXIT.notTrue;
    }
    throw new Refusal(
      'angle: At 90 degrees on the bar there is no budget: the height no longer says the angle. Set the complement (--steep complement).',
    );
  }
  terminal.out(options.json ? JSON.stringify(answer.budget, null, 2) : budgetLines(answer.budget));
  return EXIT.done;
}

export const budgetCommand: CliCommand = {
  name: 'budget',
  summary: 'says how good the angle of the jaw can be, line by line',
  help: BUDGET_HELP,
  run,
};
