import { type BlockSet, firstQuestion, type PlanQuestion, type Tolerance } from '@taptrue/protocol';
import { readSize } from '../plan/exact-length.ts';
import { STANDARD_SETS } from '../plan/sets/standard-sets.ts';
import type { Paper } from '../plan/sheet/setup-sheet.ts';
import { readArguments } from './arguments.ts';
import { Refusal } from './command.ts';
import { listOf, loadSet } from './load-set.ts';
import { FROM_OPTIONS, FROM_WORDS, measuredFromOptions } from './measured-from-options.ts';
import { planned } from './plan-refusal.ts';

const PLAN_WORDS = `  --angle TEXT          12deg30min; with --angle-kind: 6.125in/ft, 1:20, 1in/12in
  --angle-kind KIND     angle (default), included-angle, taper-included, taper-half, rise-over-run
  --bar LENGTH          between the roll centres, 5in or 100mm
  --bar-uncertainty LENGTH   the bar is certified to this, expanded (k = 2)
  --roll LENGTH         diameter of a roll
  --jaw LENGTH          width of the jaw
  --solid-jaw rear|front     which jaw is the solid one (default rear)
  --set ID|FILE         gauge-block set
  --without LIST        blocks not to be used
  --wear SIZE           a wear pair outside
  --hand right-away|left-away   which end of the jaw goes away from you (default right-away)
  --tolerance TEXT      5min; or ISO class f, m, c, v with --shorter-leg; or a length with --over
  --shorter-leg LENGTH  --over LENGTH
  --share NUMBER        share of the tolerance for the set-up (default 0.25)
  --grade GRADE         grade of the blocks: K, 00, 0, 1, 2, AS-1, AS-2
  --steep as-written|complement      above 45 degrees
  --shallow one-stack|both-rolls|sweep-the-jaw   very small angles
  --low-stack LENGTH    with both-rolls: height under the other roll (default: the fewest blocks)
  --nearest below|above where the height cannot be built
${FROM_WORDS}
  --job TEXT            --edge TEXT (which edge of the print that line is)`;

export const PLAN_HELP = `taptrue plan --angle TEXT --bar LENGTH --set ID|FILE [options]

From the print to the stack, the direction, the limit of the sweep and the budget; --sheet prints it.

${PLAN_WORDS}
  --sheet FILE.pdf|.html    write the setup sheet; a PDF is printed by a browser found on this system
                        (a file of that name is written over)
  --paper a4|letter     paper of the sheet (default: letter for inch, a4 for metric)
  --json                print the plan as one object

Exit codes: 0 planned; 1 the stack cannot be built or is not decided; 3 input refused.`;

export const BUDGET_HELP = `taptrue budget --angle TEXT --bar LENGTH --set ID|FILE [options]

How good the angle of the jaw can be, each part in seconds of arc with its source.

${PLAN_WORDS}
  --json                print the budget as one object

Exit codes: 0 done; 1 the stack cannot be built; 3 input refused.`;

const OPTIONS = {
  angle: { type: 'string' },
  'angle-kind': { type: 'string' },
  bar: { type: 'string' },
  'bar-uncertainty': { type: 'string' },
  roll: { type: 'string' },
  jaw: { type: 'string' },
  'solid-jaw': { type: 'string' },
  set: { type: 'string' },
  without: { type: 'string' },
  wear: { type: 'string' },
  hand: { type: 'string' },
  tolerance: { type: 'string' },
  'shorter-leg': { type: 'string' },
  over: { type: 'string' },
  share: { type: 'string' },
  grade: { type: 'string' },
  steep: { type: 'string' },
  shallow: { type: 'string' },
  nearest: { type: 'string' },
  'low-stack': { type: 'string' },
  job: { type: 'string' },
  edge: { type: 'string' },
  ...FROM_OPTIONS,
  sheet: { type: 'string' },
  paper: { type: 'string' },
  json: { type: 'boolean' },
} as const;

export interface PlanOptions {
  question: PlanQuestion;
  sets: readonly BlockSet[];
  sheet: string | null;
  paper: Paper;
  json: boolean;
}

/** One of several words; spaces of the schema are dashes on the command line. */
function choice<T extends string>(
  option: string,
  text: string | undefined,
  known: readonly T[],
): T | null {
  if (text === undefined) return null;
  const found = known.find((one) => one.replaceAll(' ', '-') === text);
  if (found !== undefined) return found;
  throw new Refusal(
    `--${option}: "${text}" is not known here. Write ${known.map((one) => one.replaceAll(' ', '-')).join(' or ')}.`,
  );
}

function toleranceOf(
  text: string | undefined,
  leg: string | undefined,
  over: string | undefined,
): Tolerance | null {
  if (text === undefined) {
    if (leg !== undefined || over !== undefined)
      throw new Refusal('--tolerance is missing, and --shorter-leg or --over belongs to it.');
    return null;
  }
  if (over !== undefined) return { kind: 'rise', rise: text, over };
  const isoClass = (['f', 'm', 'c', 'v'] as const).find((one) => one === text);
  if (isoClass === undefined) return { kind: 'angle', text };
  if (leg === undefined)
    throw new Refusal(
      `--shorter-leg is missing. Class ${text} of ISO 2768-1 goes by the length of the shorter leg; give it, such as 30mm.`,
    );
  return { kind: 'iso 2768-1', class: isoClass, shorterLeg: leg };
}

/** Reads the options of `taptrue plan` and `taptrue budget` into the one question. */
export async function readPlanOptions(args: string[]): Promise<PlanOptions> {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 0)
    throw new Refusal(`"${positionals[0]}" belongs to no option. See --help.`);
  if (values.angle === undefined)
    throw new Refusal('angle: --angle is missing. Write it as on the print: --angle 12deg30min.');
  const set = values.set === undefined ? null : await loadSet(values.set);
  const displayUnit =
    values.bar === undefined ? (set?.unit ?? 'in') : planned(readSize('bar', values.bar)).unit;
  const share = values.share === undefined ? 0.25 : Number(values.share);
  if (!(share > 0 && share <= 1))
    throw new Refusal(
      `--share: "${values.share}" is not a share. Write a number above 0 and up to 1, such as 0.25.`,
    );
  const sheet = values.sheet ?? null;
  if (sheet !== null && !/\.(pdf|html)$/i.test(sheet))
    throw new Refusal(`--sheet: "${sheet}" ends in neither .pdf nor .html.`);
  const first = firstQuestion();
  const question: PlanQuestion = {
    ...first,
    job: values.job ?? '',
    angle: {
      text: values.angle,
      kind:
        choice('angle-kind', values['angle-kind'], [
          'angle',
          'included angle',
          'taper included',
          'taper half',
          'rise over run',
        ]) ?? 'angle',
    },
    measuredFrom: measuredFromOptions(values),
    referenceLine: values.edge ?? '',
    hand: choice('hand', values.hand, ['right-away', 'left-away']) ?? 'right-away',
    tolerance: toleranceOf(values.tolerance, values['shorter-leg'], values.over),
    setUpShare: share,
    bar:
      values.bar === undefined
        ? null
        : {
            length: values.bar,
            lengthIs: values['bar-uncertainty'] === undefined ? 'nominal' : 'certified',
            lengthUncertainty: values['bar-uncertainty'] ?? null,
            rollDiameter: values.roll ?? null,
          },
    jaw: {
      solid: choice('solid-jaw', values['solid-jaw'], ['rear', 'front']) ?? 'rear',
      width: values.jaw ?? null,
    },
    setId: set?.id ?? null,
    without: listOf('without', values.without),
    lowStack: values['low-stack'] ?? null,
    wear: values.wear ?? null,
    displayUnit,
    decisions: {
      steep: choice('steep', values.steep, ['as written', 'complement']),
      shallow: choice('shallow', values.shallow, ['one stack', 'both rolls', 'sweep the jaw']),
      nearest: choice('nearest', values.nearest, ['below', 'above']),
    },
    budget: {
      ...first.budget,
      grade: choice('grade', values.grade, ['K', '00', '0', '1', '2', 'AS-1', 'AS-2']),
    },
  };
  const paper =
    choice('paper', values.paper, ['a4', 'letter']) ?? (displayUnit === 'in' ? 'letter' : 'a4');
  return { question, sets: set ? [set] : STANDARD_SETS, sheet, paper, json: values.json ?? false };
}
