import {
  faultLine,
  formatLength,
  type LengthUnit,
  type Rises,
  type Verdict,
} from '@taptrue/protocol';
import type { CircleResult } from '../set-ups/circle/circle-input.ts';
import { judgeCircle } from '../set-ups/circle/judge-circle.ts';
import type { CircleSetUp } from '../set-ups/set-up.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { angleRad, lengthMm, oneFile, oneOf, sizeMm } from './option-values.ts';
import { readCircleFile } from './read-circle-file.ts';
import { readText } from './read-text.ts';
import { circleSetUp } from './set-up-of.ts';

const HELP = `taptrue circle FILE.csv --setup head|centre|four-jaw --diameter LENGTH [options]

Fits what a needle does once a turn, by least squares, through readings at places round a circle: how far
a head is out of tram, or a bore, boss or chucked work out of centre, and what must move. FILE may be -
for standard input.

The header is angle_deg,reading_in or angle_deg,reading_mm (also um and thou). Angles are those of the
place under the stylus, counter-clockwise from +X (your right) seen from above; for a chuck, seen from the
tailstock. At least three places, not all in one half; a verdict needs seven.

  --setup NAME             head, centre or four-jaw; taptrue setups says more
  --diameter LENGTH        diameter of the sweep, or of the bore or work
  --limit LENGTH           what the needle may still move in a turn, for a head over the diameter:
                           twice the amplitude
  --rises toward|away      the reading rises as the surface comes toward the indicator (pressing the
                           stylus; taken where nothing is said), or as it goes away
  --face bore|boss         the wall that is touched: a bore from inside, a boss or the outside of work
  --turns spindle|work     work: the indicator stands still at 0 degrees, and the angles are how far the
                           work was turned counter-clockwise
  --jaw-one ANGLE          four-jaw: where jaw one stands; 2, 3, 4 follow counter-clockwise
  --resolution LENGTH      what is known of the indicator: its count,
  --permissible-error LENGTH   its permissible error over the range used,
  --repeatability LENGTH       what one reading repeats to here, standard deviation
  --json                   print one object instead of the report

What must move is told with the work (or table); where the spindle is moved instead, it goes the other
way. For a head, direction and amount are those of its top, over the diameter.

Exit codes: 0 true, or no limit given; 1 not true; 2 too close to call; 3 input refused, the reason is
on standard error; 70 a fault of ours.`;

const OPTIONS = {
  setup: { type: 'string' },
  diameter: { type: 'string' },
  limit: { type: 'string' },
  rises: { type: 'string' },
  face: { type: 'string' },
  turns: { type: 'string' },
  'jaw-one': { type: 'string' },
  resolution: { type: 'string' },
  'permissible-error': { type: 'string' },
  repeatability: { type: 'string' },
  json: { type: 'boolean' },
} as const;

const EXIT_BY_VERDICT: Readonly<Record<Verdict, number>> = {
  true: EXIT.done,
  'not true': EXIT.notTrue,
  'too close to call': EXIT.tooCloseToCall,
};

interface Given {
  face: 'bore' | 'boss' | null;
  turns: 'spindle' | 'work' | null;
  jawOneRad: number | null;
}

function refuseWhatDoesNotBelong(setUp: CircleSetUp, given: Given): void {
  const isHead = setUp.circle.reads === 'face along the axis';
  if (isHead && given.face !== null) {
    throw new Refusal(
      `--face is for a wall round the axis; ${setUp.name} touches a face along it. Leave it out.`,
    );
  }
  if (isHead && given.turns === 'work') {
    throw new Refusal(
      `--turns work does not go with ${setUp.name}: there the spindle carries the indicator round. Leave it out.`,
    );
  }
  if (!setUp.circle.hasJaws && given.jawOneRad !== null) {
    throw new Refusal(`--jaw-one is for four-jaw; ${setUp.name} has no jaws. Leave it out.`);
  }
}

async function run(args: string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(args, OPTIONS);
  const path = oneFile(positionals, 'taptrue circle FILE.csv');
  if (values.setup === undefined) {
    throw new Refusal('Which set-up? Write --setup head, --setup centre or --setup four-jaw.');
  }
  const setUp = await circleSetUp(values.setup);
  const diameterMm = sizeMm('diameter', values.diameter);
  if (diameterMm === null) {
    throw new Refusal(
      'The diameter of the circle is missing: without it the needle says nothing of the tilt or the size. Write --diameter 8in.',
    );
  }
  const given: Given = {
    face: oneOf('face', values.face, ['bore', 'boss']),
    turns: oneOf('turns', values.turns, ['spindle', 'work']),
    jawOneRad: angleRad('jaw-one', values['jaw-one'], true),
  };
  refuseWhatDoesNotBelong(setUp, given);
  const rises: Rises | null = oneOf('rises', values.rises, ['toward', 'away']);
  const limitMm = sizeMm('limit', values.limit);
  const resolutionMm = sizeMm('resolution', values.resolution);
  const permissibleErrorMm = notNegative('permissible-error', values['permissible-error']);
  const repeatabilityMm = notNegative('repeatability', values.repeatability);

  const file = readCircleFile(await readText(path));
  const judged = judgeCircle({
    setUp,
    points: file.points,
    diameterMm,
    displayUnit: file.displayUnit,
    rises,
    face: given.face,
    turns: given.turns,
    jawOneDeg: given.jawOneRad === null ? null : (given.jawOneRad * 180) / Math.PI,
    limitMm,
    resolutionMm,
    permissibleErrorMm,
    repeatabilityMm,
  });
  if (!judged.ok) throw new Refusal(faultLine(judged.fault));
  const ignored = file.ignored.map((name) => ({
    code: 'column-ignored',
    text: `The column "${name}" is not used.`,
  }));
  const result = { ...judged.result, cautions: [...judged.result.cautions, ...ignored] };
  terminal.out(
    values.json ? JSON.stringify(result, null, 2) : circleReport(result, setUp, file.displayUnit),
  );
  return result.verdict === null ? EXIT.done : EXIT_BY_VERDICT[result.verdict];
}

function notNegative(name: string, text: string | undefined): number | null {
  const mm = lengthMm(name, text);
  if (mm !== null && mm < 0) throw new Refusal(`--${name}: ${text} is negative; write its size.`);
  return mm;
}

function circleReport(result: CircleResult, setUp: CircleSetUp, unit: LengthUnit): string {
  const fine = (mm: number) => formatLength(mm, unit, { decimals: unit === 'in' ? 5 : 4 });
  const row = (name: string, value: string) => `  ${name.padEnd(15)}${value}`;
  const expanded =
    result.amplitudeExpandedMm === null
      ? 'uncertainty not known'
      : `± ${fine(result.amplitudeExpandedMm)} (95 %)`;
  const lines = [
    result.sentence,
    '',
    row(
      'read',
      `${result.points} readings at ${result.places} places round ${formatLength(result.diameterMm, unit)}`,
    ),
    row('amplitude', `${fine(result.amplitudeMm)}   ${expanded}`),
    row('highest at', `${result.towardDeg.toFixed(1)}°`),
    row('whole', `${fine(result.totalMm)} in a turn`),
    row(
      'out of round',
      result.outOfRoundMm === null ? 'not to be seen with three places' : fine(result.outOfRoundMm),
    ),
  ];
  for (const part of result.correction?.parts ?? []) lines.push(row(part.name, part.words));
  if (result.verdict !== null) lines.push(row('verdict', result.verdict));
  const minds = [...result.cautions.map(({ text }) => text), ...setUp.cautions];
  if (minds.length > 0) lines.push('', 'Mind:', ...minds.map((text) => `  - ${text}`));
  return lines.join('\n');
}

export const circleCommand: CliCommand = {
  name: 'circle',
  summary: 'fits readings round a circle: head tram, centre of a bore or boss, four-jaw',
  help: HELP,
  run,
};
