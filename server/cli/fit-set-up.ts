import {
  arcsecFromRadians,
  type Caution,
  formatAngle,
  formatLength,
  type LengthUnit,
  type Rises,
  type SweepResult,
} from '@taptrue/protocol';
import { coverageFactor95 } from '../measure/verdict/student-t.ts';
import { limitRad } from '../measure/verdict/verdict.ts';
import { limitLength } from '../measure/verdict/words.ts';
import { correctLine, planeOf } from '../set-ups/correct-line.ts';
import { judgePart, nextTargetSlope, partAngle } from '../set-ups/part-angle.ts';
import type { Correction, LinePlane, LineSetUp } from '../set-ups/set-up.ts';
import { asItLies, turnedRound } from '../set-ups/swept-angle.ts';
import { taperOnDiameterMm, taperPerFootMm } from '../set-ups/taper.ts';
import { Refusal } from './command.ts';
import type { FitOptions } from './fit-options.ts';
import type { SetUpOptions } from './fit-set-up-options.ts';
import { lineSetUp } from './set-up-of.ts';

/** The set-up of one fit, after what it asks was looked over. */
export interface ChosenSetUp {
  setUp: LineSetUp;
  plane: LinePlane;
  said: SetUpOptions;
  /** As the line takes it: a height is plus up, so the reading that rises as it comes up is "away". */
  risesOfLine: Rises | null;
  /** The sense was not said, and was taken as rising when pressed. */
  senseTaken: boolean;
  isTapped: boolean;
}

/** What was given although this set-up has no use for it, or left out although it needs it: refused. */
export async function chooseSetUp(options: FitOptions, said: SetUpOptions): Promise<ChosenSetUp> {
  const setUp = await lineSetUp(said.name);
  const plane = planeOf(setUp, said.plane);
  if (plane === null || (said.plane !== null && setUp.planes.length < 2)) {
    const names = setUp.planes.map(({ name }) => name).join(' or ');
    throw new Refusal(
      setUp.planes.length > 1
        ? `--plane: "${said.plane}" is not known for ${setUp.name}. Write ${names}.`
        : `--plane is for between-centres; ${setUp.name} has one plane only. Leave it out.`,
    );
  }
  if (!setUp.axes.includes(options.axis)) {
    throw new Refusal(
      `--axis ${options.axis}: ${setUp.name} is not swept along ${options.axis.toUpperCase()}. It wants: ${setUp.travel}.`,
    );
  }
  refuseStrangers(setUp, said);
  askForMissing(setUp, options, said);
  const isTapped = plane.corrects.some(({ kind }) => kind === 'tap');
  const tapOnly = (['pivotMm', 'malletMm', 'parkedMm'] as const).find((at) => options[at] !== null);
  if (!isTapped && tapOnly) {
    throw new Refusal(
      `--${tapOnly.replace('Mm', '')} is for what is tapped; ${setUp.name} is not. Leave it out.`,
    );
  }
  const sense = options.rises ?? (isTapped ? null : 'toward');
  const flipped = sense === 'toward' ? 'away' : 'toward';
  return {
    setUp,
    plane,
    said,
    risesOfLine: plane.senses === 'height' ? flipped : sense,
    senseTaken: options.rises === null,
    isTapped,
  };
}

function refuseStrangers(setUp: LineSetUp, said: SetUpOptions): void {
  const known = setUp.asks.map(({ option }) => option as string);
  const stranger = said.given.find((name) => name !== 'plane' && !known.includes(name));
  if (stranger) {
    throw new Refusal(`--${stranger} has no use in ${setUp.name}. Leave it out.`);
  }
}

function askForMissing(setUp: LineSetUp, options: FitOptions, said: SetUpOptions): void {
  const known: Partial<Record<string, number | string | null>> = {
    'foot-spacing': said.footSpacingMm,
    'from-headstock': said.fromHeadstockMm,
    'target-slope': said.targetSlope,
    'set-angle': said.setRad,
    pivot: options.pivotMm,
    mallet: options.malletMm,
  };
  const missing = setUp.asks.find(({ option, needed }) => needed && known[option] == null);
  if (missing) {
    throw new Refusal(
      `${setUp.name} needs --${missing.option}: ${missing.words}. Without it there is no answer.`,
    );
  }
}

/** The result with the words of the set-up, its correction and the figures it is taken for. */
export function withSetUp(
  result: SweepResult,
  chosen: ChosenSetUp,
  options: FitOptions,
  unit: LengthUnit,
  turned: SweepResult | null,
) {
  const { setUp, plane, said } = chosen;
  const correction =
    chosen.risesOfLine === null
      ? null
      : correctLine(
          plane,
          {
            slope: result.slope,
            targetSlope: options.targetSlope,
            lengthMm: result.lengthMm,
            axis: options.axis,
            tap: result.tap,
            footSpacingMm: said.footSpacingMm,
            fromHeadstockMm: said.fromHeadstockMm,
          },
          unit,
        );
  const tapered = setUp.reports.includes('taper on the diameter') && plane.senses === 'across';
  const own = {
    ...result,
    setUp: setUp.name,
    plane: plane.name,
    correction,
    cautions: [...result.cautions, ...cautionsOf(chosen)],
    sentence: `${sentenceOf(result, correction, options, unit)}${tapered ? taperWords(result, said, unit) : ''}`,
  };
  return {
    ...own,
    ...(tapered ? { taper: taperOf(result, said) } : {}),
    ...(setUp.reports.includes('part angle') && said.setRad !== null
      ? partOf(own, said, said.setRad, options, turned)
      : {}),
  };
}

/** A line that goes away to the right stands farther from the tool there: the work comes larger. */
function taperWords(result: SweepResult, said: SetUpOptions, unit: LengthUnit): string {
  const { onDiameterMm, overMm } = taperOf(result, said);
  const amount = formatLength(Math.abs(onDiameterMm), unit);
  const size = onDiameterMm < 0 ? 'smaller' : 'larger';
  return ` As it stands, work turned over ${formatLength(overMm, unit)} comes ${amount} ${size} in diameter at its right end.`;
}

function taperOf(result: SweepResult, said: SetUpOptions) {
  const lengthMm = said.fromHeadstockMm ?? result.lengthMm;
  return {
    onDiameterMm: taperOnDiameterMm(result.slope, lengthMm),
    overMm: lengthMm,
    perFootMm: taperPerFootMm(result.slope),
  };
}

function cautionsOf(chosen: ChosenSetUp): Caution[] {
  const { said } = chosen;
  const cautions: Caution[] = chosen.plane.cautions.map((text) => ({ code: 'never-moved', text }));
  // Of what is tapped the line itself says that its sense is not known.
  if (chosen.senseTaken && !chosen.isTapped) {
    cautions.push({
      code: 'rise-not-said',
      text: 'It was taken that the reading rises as the face comes toward the indicator, and that the indicator stands on your side or above. If not, say --rises away, or everything moves the wrong way.',
    });
  }
  if (chosen.setUp.reports.includes('part angle')) {
    if (said.stack === null) {
      cautions.push({
        code: 'stack-end-not-said',
        text: 'The stack was taken to stand under the left end of the bar. If it stands under the right, say --stack right, or the part is off the other way.',
      });
    }
    if (said.setStandardRad === null) {
      cautions.push({
        code: 'set-uncertainty-not-said',
        text: 'Stack, bar and plate were taken as without error. Give --set-uncertainty, such as taptrue budget says.',
      });
    }
  }
  return cautions;
}

function partOf(
  own: SweepResult & { cautions: Caution[] },
  said: SetUpOptions,
  setRad: number,
  options: FitOptions,
  turned: SweepResult | null,
) {
  const sweep = turned === null ? asItLies(own) : turnedRound(own, turned);
  const part = partAngle({
    setRad,
    wantedRad: said.wantedRad ?? setRad,
    slope: Math.tan(sweep.angleRad),
    stack: said.stack ?? 'left',
    sweepStandardRad: sweep.standardRad,
    sweepDegreesOfFreedom: sweep.degreesOfFreedom,
    setStandardRad: said.setStandardRad ?? 0,
  });
  const expandedRad =
    part.standardRad === null ? null : coverageFactor95(part.degreesOfFreedom) * part.standardRad;
  const verdict =
    options.limit === null
      ? null
      : judgePart(part, limitRad(options.limit, own.lengthMm), options.decisionRule === 'plain');
  const plusMinus = expandedRad === null ? '' : ` ± ${formatAngle(expandedRad)}`;
  const prefix = verdict === null ? '' : `${verdict[0]!.toUpperCase()}${verdict.slice(1)}. `;
  return {
    verdict,
    sentence: `${prefix}The part is ${formatAngle(part.partAngleRad)}${plusMinus}, ${formatAngle(part.offRad, { plus: true })} off what is wanted.`,
    part: {
      setAngleDeg: degrees(setRad),
      partAngleDeg: degrees(part.partAngleRad),
      offArcsec: arcsecFromRadians(part.offRad),
      expandedArcsec: expandedRad === null ? null : arcsecFromRadians(expandedRad),
      barArcsec: sweep.turnedRad === null ? null : arcsecFromRadians(sweep.turnedRad),
      nextTargetSlope: {
        stackRight: nextTargetSlope(part.offRad, 'right'),
        stackLeft: nextTargetSlope(part.offRad, 'left'),
      },
    },
  };
}

function degrees(rad: number): number {
  return (rad * 180) / Math.PI;
}

/** The set-up's own words in place of the vise's; what is true needs none. */
function sentenceOf(
  result: SweepResult,
  correction: Correction | null,
  options: FitOptions,
  unit: LengthUnit,
): string {
  if (result.verdict === 'true' || result.tap || correction === null) return result.sentence;
  if (result.verdict === 'too close to call') return `${result.sentence} ${correction.words}`;
  const offMm = Math.abs((result.slope - options.targetSlope) * result.lengthMm);
  const name = result.verdict === 'not true' ? 'Not true' : 'Out of true';
  const { limit } = options;
  const limited =
    limit === null
      ? ''
      : `; limit ${limit.kind === 'angle' ? formatAngle(limit.rad) : limitLength(limit.mm, unit)}`;
  return `${name}: ${formatLength(offMm, unit)} over ${formatLength(result.lengthMm, unit)}${limited}. ${correction.words}`;
}
