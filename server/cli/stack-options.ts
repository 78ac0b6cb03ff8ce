import { radiansFromArcsec } from '@taptrue/protocol';
import { readMeasuredAngle } from '../plan/angle/measured-from.ts';
import { readSize } from '../plan/exact-length.ts';
import { readBlock, shelfOf } from '../plan/sets/shelf.ts';
import type { StackQuestion } from '../plan/stack/build-stack.ts';
import { readArguments } from './arguments.ts';
import { Refusal } from './command.ts';
import { listOf, loadSet } from './load-set.ts';
import { FROM_OPTIONS, FROM_WORDS, measuredFromOptions } from './measured-from-options.ts';
import { planned } from './plan-refusal.ts';

export const STACK_HELP = `taptrue stack --angle ANGLE --bar LENGTH --set ID|FILE [options]
taptrue stack --height LENGTH --set ID|FILE [--bar LENGTH] [options]

Picks the fewest gauge blocks that make the height, exactly, and lists the other stacks of as few. From an
angle the height is bar times sine, rounded to what the set can resolve; --height is taken exactly.

  --angle ANGLE       12.5deg, 12deg30min, 12d30m15s
  --bar LENGTH        between the roll centres, 5in or 100mm
${FROM_WORDS}
  --height LENGTH     a height instead of an angle, 0.8682in
  --set ID|FILE       inch-81, inch-36, inch-28, inch-21, inch-20, inch-long-8, metric-112, metric-103,
                      metric-88, metric-87, metric-56, metric-47a, metric-47b, metric-46, metric-45,
                      metric-32, or a set of your own as JSON
  --without LIST      blocks that are lost, worn or wrung elsewhere: 0.128,0.101
  --wear SIZE         a wear pair outside, one block each side, beside the set: 0.050
  --blocks LIST       check this stack instead: 0.1002,0.118,0.650
  --json              print one object

leftoverMm is the exact height less the sum; angleErrorArcsec the angle set less the angle wanted.
Exit codes: 0 built, or the stack checked is right; 1 it cannot be built (the nearest either side are
printed), or the stack checked is wrong; 3 input refused, the reason is on standard error.`;

const OPTIONS = {
  angle: { type: 'string' },
  ...FROM_OPTIONS,
  bar: { type: 'string' },
  height: { type: 'string' },
  set: { type: 'string' },
  without: { type: 'string' },
  wear: { type: 'string' },
  blocks: { type: 'string' },
  json: { type: 'boolean' },
} as const;

export interface StackOptions {
  question: StackQuestion;
  barUnit: 'in' | 'mm' | null;
  check: string[] | null;
  json: boolean;
}

/** Reads the options of `taptrue stack`; what cannot be meant is refused with its field. */
export async function readStackOptions(args: string[]): Promise<StackOptions> {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 0)
    throw new Refusal(`"${positionals[0]}" belongs to no option. See taptrue stack --help.`);
  if ((values.angle === undefined) === (values.height === undefined)) {
    throw new Refusal('Give either --angle with --bar, or --height.');
  }
  const set = await loadSet(values.set);
  const shelf = planned(shelfOf(set, listOf('without', values.without)));
  const wearSteps = values.wear === undefined ? null : planned(readBlock(set, 'wear', values.wear));
  const bar = values.bar === undefined ? null : planned(readSize('bar', values.bar));
  const barMm = bar?.mm ?? null;
  const rest = {
    barUnit: bar?.unit ?? null,
    check: values.blocks === undefined ? null : listOf('blocks', values.blocks),
    json: values.json ?? false,
  };
  if (values.height !== undefined) {
    if (values.from !== undefined || values['edge-angle'] !== undefined || values.cut !== undefined)
      throw new Refusal('--from belongs to --angle. A height is taken as it is.');
    const height = planned(readSize('height', values.height));
    if (bar !== null && height.fm > bar.fm) {
      throw new Refusal(
        `bar: The bar is shorter than its stack. Got: "${values.bar}" under a height of "${values.height}". Give a longer bar or a smaller height.`,
      );
    }
    const wantedRad = bar === null ? null : Math.asin(height.mm / bar.mm);
    return {
      question: { shelf, wearSteps, barMm, wantedRad, height: { kind: 'exact', fm: height.fm } },
      ...rest,
    };
  }
  const arcsec = planned(
    readMeasuredAngle(values.angle!, 'angle', measuredFromOptions(values)),
  ).setArcsec;
  if (barMm === null)
    throw new Refusal(
      'bar: An angle needs a bar. Give --bar, the length between its roll centres, such as 5in.',
    );
  if (arcsec === 0)
    throw new Refusal(
      `angle: At 0 degrees there is no stack. Got: "${values.angle}". Sweep the jaw itself and make it straight.`,
    );
  const wantedRad = radiansFromArcsec(arcsec);
  return {
    question: {
      shelf,
      wearSteps,
      barMm,
      wantedRad,
      height: { kind: 'from angle', mm: barMm * Math.sin(wantedRad) },
    },
    ...rest,
  };
}
