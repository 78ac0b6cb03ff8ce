import {
  type DecisionRule,
  type Limit,
  type Parsed,
  parseAngleRad,
  parseLengthMm,
  parseNumber,
  type Rises,
} from '@taptrue/protocol';
import { readArguments } from './arguments.ts';
import { Refusal } from './command.ts';
import {
  readSetUpOptions,
  SET_UP_HELP,
  SET_UP_OPTIONS,
  type SetUpOptions,
} from './fit-set-up-options.ts';

export const FIT_HELP = `taptrue fit FILE.csv [options]

Fits the line through positions and readings by least squares and says how far out of true it lies,
which end to tap, which way, how much, and at which reading to stop. FILE may be - for standard input.

The file has a header that names columns and units, in any order:
  position_in,reading_in   or   position_mm,reading_mm     (also um and thou)
  pass     optional: out or back
  time_s   optional

Lengths and angles carry their unit: 0.001in, 150mm, 20arcsec, 12deg30min.

  --rises toward|away      the reading rises as the surface comes toward you, or goes away from you
  --pivot LENGTH           where the vise turns, along the work
  --mallet LENGTH          where the mallet strikes
  --parked LENGTH          station the reading to stop at is for
  --limit LENGTH           how far out of true is allowed, end to end over the swept length
  --limit-over LENGTH      length that --limit is over
  --limit-angle ANGLE      the limit as an angle instead
  --decision RULE          guarded (default: the limit is guarded by t u) or plain
  --target-slope NUMBER    slope the line is to have, 0 unless the job sets one
  --axis x|y               axis swept along; y: positions away from you, away reads as left
  --stylus-angle ANGLE     lever stylus inclined to the surface: true = shown times cosine
  --resolution LENGTH      what is known of the indicator: its count,
  --permissible-error LENGTH   its permissible error over the range used,
  --repeatability LENGTH       what one reading repeats to here, standard deviation
  --bins N                 gather the readings into N equal steps of position first
  --json                   print one object instead of the report

${SET_UP_HELP}

Exit codes: 0 true, or no limit given; 1 not true; 2 too close to call; 3 input refused, the reason is
on standard error; 70 a fault of ours.`;

const OPTIONS = {
  rises: { type: 'string' },
  pivot: { type: 'string' },
  mallet: { type: 'string' },
  parked: { type: 'string' },
  limit: { type: 'string' },
  'limit-over': { type: 'string' },
  'limit-angle': { type: 'string' },
  decision: { type: 'string' },
  'target-slope': { type: 'string' },
  axis: { type: 'string' },
  'stylus-angle': { type: 'string' },
  resolution: { type: 'string' },
  'permissible-error': { type: 'string' },
  repeatability: { type: 'string' },
  bins: { type: 'string' },
  json: { type: 'boolean' },
  ...SET_UP_OPTIONS,
} as const;

/** Steepest slope a job may set, as in the setup of the bench: beyond it the small-angle words fail. */
const STEEPEST_TARGET = 0.2;

/** Stylus farther round than this, radians (80 degrees), reads next to nothing of the surface. */
const STEEPEST_STYLUS_RAD = 1.4;

/** As for the lengths of a file: nothing on a machine is farther, mm. */
const FARTHEST_MM = 100_000;

const MOST_ASKED_BINS = 1000;

export interface FitOptions {
  file: string;
  rises: Rises | null;
  pivotMm: number | null;
  malletMm: number | null;
  parkedMm: number | null;
  limit: Limit | null;
  decisionRule: DecisionRule;
  targetSlope: number;
  axis: 'x' | 'y';
  stylusFactor: number;
  resolutionMm: number | null;
  permissibleErrorMm: number | null;
  repeatabilityMm: number | null;
  bins: number | null;
  json: boolean;
  /** null: no set-up was named; the line is then judged by itself. */
  setUp: SetUpOptions | null;
}

function parsedValue<T>(
  name: string,
  text: string | undefined,
  parse: (text: string) => Parsed<T>,
) {
  if (text === undefined) return null;
  const parsed = parse(text);
  if (!parsed.ok) throw new Refusal(`--${name}: ${parsed.why}.`);
  return parsed.value;
}

function choiceOf<T extends string>(name: string, text: string | undefined, known: readonly T[]) {
  if (text === undefined) return null;
  const found = known.find((choice) => choice === text.toLowerCase());
  if (found) return found;
  throw new Refusal(`--${name}: "${text}" is not known here. Write ${known.join(' or ')}.`);
}

function mustBe(holds: boolean, name: string, text: string | undefined, rule: string): void {
  if (!holds) throw new Refusal(`--${name}: ${text} ${rule}.`);
}

function binsOf(text: string | undefined): number | null {
  if (text === undefined) return null;
  const bins = Number(text);
  const fits = /^\d+$/.test(text) && bins >= 2 && bins <= MOST_ASKED_BINS;
  mustBe(fits, 'bins', `"${text}"`, `is not a whole number from 2 to ${MOST_ASKED_BINS}`);
  return bins;
}

/** Reads the options of `taptrue fit`; whatever cannot be meant is refused with the option's name. */
export function readFitOptions(args: string[]): FitOptions {
  const { values, positionals } = readArguments(args, OPTIONS);
  const [file, ...more] = positionals;
  if (file === undefined) {
    throw new Refusal('Which file? Write taptrue fit FILE.csv, or - for standard input.');
  }
  if (more.length > 0) {
    throw new Refusal(`One file at a time. Got: ${positionals.join(', ')}.`);
  }
  const length = (name: keyof typeof values & string) => {
    const text = values[name] as string | undefined;
    const mm = parsedValue(name, text, parseLengthMm);
    mustBe(mm === null || Math.abs(mm) <= FARTHEST_MM, name, text, 'is farther than 100 m');
    return mm;
  };
  const atLeastZero = (name: 'resolution' | 'permissible-error' | 'repeatability') => {
    const mm = length(name);
    mustBe(mm === null || mm >= 0, name, values[name], 'is negative; write its size');
    return mm;
  };

  const setUp = readSetUpOptions(values);
  const ownSlope = parsedValue('target-slope', values['target-slope'], parseNumber);
  if (ownSlope !== null && setUp && setUp.targetSlope !== null) {
    throw new Refusal('--target-slope and a taper or angle say the same thing. Give one of them.');
  }
  const targetSlope = ownSlope ?? setUp?.targetSlope ?? 0;
  mustBe(
    Math.abs(targetSlope) <= STEEPEST_TARGET,
    'target-slope',
    values['target-slope'],
    `is steeper than ${STEEPEST_TARGET}; set the vise by the swivel first`,
  );
  const stylusRad = parsedValue('stylus-angle', values['stylus-angle'], parseAngleRad) ?? 0;
  mustBe(
    Math.abs(stylusRad) <= STEEPEST_STYLUS_RAD,
    'stylus-angle',
    values['stylus-angle'],
    'is more than 80 degrees; lay the stylus nearer along the surface',
  );
  const resolutionMm = atLeastZero('resolution');
  mustBe(resolutionMm !== 0, 'resolution', values.resolution, 'is no count; leave it out instead');

  return {
    file,
    rises: choiceOf('rises', values.rises, ['toward', 'away']),
    pivotMm: length('pivot'),
    malletMm: length('mallet'),
    parkedMm: length('parked'),
    limit: limitOf(values),
    decisionRule: choiceOf('decision', values.decision, ['guarded', 'plain']) ?? 'guarded',
    targetSlope,
    axis: choiceOf('axis', values.axis, ['x', 'y']) ?? 'x',
    stylusFactor: Math.cos(stylusRad),
    resolutionMm,
    permissibleErrorMm: atLeastZero('permissible-error'),
    repeatabilityMm: atLeastZero('repeatability'),
    bins: binsOf(values.bins),
    json: values.json ?? false,
    setUp: setUp && { ...setUp, targetSlope: ownSlope ?? setUp.targetSlope },
  };
}

interface LimitValues {
  limit?: string;
  'limit-over'?: string;
  'limit-angle'?: string;
}

function limitOf(values: LimitValues): Limit | null {
  const mm = parsedValue('limit', values.limit, parseLengthMm);
  const rad = parsedValue('limit-angle', values['limit-angle'], parseAngleRad);
  const overMm = parsedValue('limit-over', values['limit-over'], parseLengthMm);
  if (mm !== null && rad !== null) {
    throw new Refusal('--limit and --limit-angle are two limits. Give one of them.');
  }
  if (overMm !== null && mm === null) {
    throw new Refusal('--limit-over says the length that --limit is over, but --limit is missing.');
  }
  mustBe(mm === null || mm > 0, 'limit', values.limit, 'must be more than nothing');
  mustBe(
    rad === null || rad > 0,
    'limit-angle',
    values['limit-angle'],
    'must be more than nothing',
  );
  mustBe(
    rad === null || rad < Math.PI / 4,
    'limit-angle',
    values['limit-angle'],
    'is no limit for a line that is to be true',
  );
  mustBe(overMm === null || overMm > 0, 'limit-over', values['limit-over'], 'is no length');
  if (rad !== null) return { kind: 'angle', rad };
  return mm === null ? null : { kind: 'end to end', mm, overMm };
}
