import {
  type Caution,
  formatAngle,
  formatLength,
  type Limit,
  placeOfPoint,
  type Rises,
  type SetUpJudged,
  type SetUpPoint,
  type SweepResult,
} from '@taptrue/protocol';
import { judgeSweep } from '../measure/verdict/judge-sweep.ts';
import { coverageFactor95 } from '../measure/verdict/student-t.ts';
import { surfacePerReading } from '../measure/verdict/surface.ts';
import { limitRad } from '../measure/verdict/verdict.ts';
import { correctLine, planeOf } from './correct-line.ts';
import { judgePart, nextTargetSlope, partAngle } from './part-angle.ts';
import type { Correction, LinePlane, LineSetUp } from './set-up.ts';
import type { SetUpOutcome, SetUpQuestion } from './set-up-question.ts';
import { asItLies, turnedRound } from './swept-angle.ts';
import { slopeOfTaperPerFoot, taperOnDiameterMm, taperPerFootMm } from './taper.ts';
import type { Answers } from './told.ts';

/** One line of a set-up, in the words and signs of its row. */
export function judgeLineSetUp(
  row: LineSetUp,
  question: SetUpQuestion,
  answers: Answers,
): SetUpOutcome {
  const plane = planeOf(row, question.plane) ?? row.planes[0];
  const said = answers.word('rises', ['toward', 'away']);
  const isTapped = plane.corrects.some(({ kind }) => kind === 'tap');
  const known = said ?? (isTapped ? question.benchRises : 'toward');
  const limit = limitOf(row, answers);
  const targetSlope = targetOf(answers);
  const sense = plane.senses === 'height' ? other(known) : known;
  const lineOf = (points: readonly SetUpPoint[]) =>
    judgeSweep({
      passes: [
        {
          pass: 'out',
          points: points.map((point) => ({ xMm: placeOfPoint(point), readingMm: point.readingMm })),
        },
      ],
      axis: question.axis,
      displayUnit: question.unit,
      rises: sense,
      stylusFactor: 1,
      targetSlope,
      pivot: null,
      malletMm: null,
      parked: null,
      limit,
      decisionRule: 'guarded',
      resolutionMm: question.resolutionMm,
      permissibleErrorMm: question.permissibleErrorMm,
      repeatabilityMm: question.repeatabilityMm,
      rangeMm: null,
      pointsAre: 'single readings',
    });
  const first = lineOf(question.points.filter(({ turned }) => !turned));
  if (!first.ok) return { ok: false, fault: first.noLine };
  const { result } = first;
  const correction =
    sense === null
      ? null
      : correctLine(
          plane,
          {
            slope: result.slope,
            targetSlope,
            lengthMm: result.lengthMm,
            axis: question.axis,
            tap: null,
            footSpacingMm: answers.number('foot-spacing'),
            fromHeadstockMm: answers.number('from-headstock'),
          },
          question.unit,
        );
  const own: SetUpJudged = {
    verdict: result.verdict,
    sentence: sentenceOf(result, targetSlope, question),
    correction: result.verdict === 'true' ? '' : (correction?.words ?? ''),
    figures: figuresOf(row, plane, result, correction, question, answers),
    cautions: [...result.cautions, ...cautionsOf(row, plane, said === null && !isTapped, answers)],
    curve: curveOf(result, sense),
    aim: null,
  };
  if (!row.reports.includes('part angle')) return { ok: true, judged: own };
  const turned = question.points.filter((point) => point.turned);
  if (turned.length === 0) return { ok: true, judged: partOf(own, result, null, limit, answers) };
  const second = lineOf(turned);
  if (!second.ok) return { ok: false, fault: second.noLine };
  return { ok: true, judged: partOf(own, result, second.result, limit, answers) };
}

function other(rises: Rises | null): Rises | null {
  if (rises === null) return null;
  return rises === 'toward' ? 'away' : 'toward';
}

function limitOf(row: LineSetUp, answers: Answers): Limit {
  const tolerance = answers.number('tolerance');
  if (tolerance !== null && tolerance > 0) return { kind: 'angle', rad: tolerance };
  const mm = answers.number('limit');
  if (mm !== null) return { kind: 'end to end', mm, overMm: null };
  return { kind: 'end to end', mm: row.usualLimit.mm, overMm: row.usualLimit.overMm };
}

function targetOf(answers: Answers): number {
  const perFootMm = answers.number('taper-per-foot');
  const halfRad = answers.number('half-angle');
  if (perFootMm !== null) return slopeOfTaperPerFoot(perFootMm);
  return halfRad !== null ? Math.tan(halfRad) : (answers.number('target-slope') ?? 0);
}

function sentenceOf(result: SweepResult, target: number, { unit }: SetUpQuestion): string {
  if (result.verdict === 'true') return result.sentence;
  const off = formatLength(Math.abs((result.slope - target) * result.lengthMm), unit);
  const name = result.verdict === 'not true' ? 'Not true' : 'Too close to call';
  return `${name}: ${off} over ${formatLength(result.lengthMm, unit)}.`;
}

function figuresOf(
  row: LineSetUp,
  plane: LinePlane,
  result: SweepResult,
  correction: Correction | null,
  { unit }: SetUpQuestion,
  answers: Answers,
): SetUpJudged['figures'] {
  const figures = [
    { name: 'slope', value: result.slope.toFixed(6) },
    {
      name: 'end to end',
      value: `${formatLength(result.endToEndMm, unit, { plus: true })} over ${formatLength(result.lengthMm, unit)}`,
    },
    ...(correction ? [{ name: correction.kind, value: correction.words }] : []),
  ];
  if (row.reports.includes('taper on the diameter') && plane.senses === 'across') {
    const lengthMm = answers.number('from-headstock') ?? result.lengthMm;
    figures.push(
      {
        name: 'taper on the diameter',
        value: `${formatLength(taperOnDiameterMm(result.slope, lengthMm), unit, { plus: true })} over ${formatLength(lengthMm, unit)}`,
      },
      { name: 'taper per foot', value: formatLength(taperPerFootMm(result.slope), unit) },
    );
  }
  return figures;
}

function cautionsOf(
  row: LineSetUp,
  plane: LinePlane,
  senseTaken: boolean,
  answers: Answers,
): Caution[] {
  const cautions: Caution[] = plane.cautions.map((text) => ({ code: 'never-moved', text }));
  if (senseTaken) {
    cautions.push({
      code: 'rise-not-said',
      text: 'It was taken that the reading rises as the face comes toward the indicator. Press the stylus and see; if it falls, say --rises away, or everything moves the wrong way.',
    });
  }
  if (row.reports.includes('part angle')) {
    if (answers.word('stack', ['left', 'right']) === null) {
      cautions.push({
        code: 'stack-end-not-said',
        text: 'The stack was taken to stand under the left end of the bar. If it stands under the right, the part is off the other way: say --stack right.',
      });
    }
    if (answers.number('set-uncertainty') === null) {
      cautions.push({
        code: 'set-uncertainty-not-said',
        text: 'Stack, bar and plate were taken as without error. Type their --set-uncertainty, as the plan reckons it.',
      });
    }
  }
  return [...cautions, ...row.cautions.map((text) => ({ code: 'of-this-set-up', text }))];
}

/** The line as the dial shows it. */
function curveOf(result: SweepResult, sense: Rises | null): SetUpJudged['curve'] {
  const perReading = surfacePerReading(sense, 1);
  const meanMm = result.interceptMm / perReading;
  return { meanMm, perMm: result.slope / perReading, cosMm: 0, sinMm: 0 };
}

function changeWords(offRad: number): string {
  const size = formatAngle(Math.abs(offRad));
  return offRad > 0
    ? `The part is ${size} too steep: set the next one that much flatter.`
    : `The part is ${size} too flat: set the next one that much steeper.`;
}

/** The part on bar and stack: its angle against the print, and what to change in the vise. */
function partOf(
  own: SetUpJudged,
  first: SweepResult,
  second: SweepResult | null,
  limit: Limit,
  answers: Answers,
): SetUpJudged {
  const sweep = second === null ? asItLies(first) : turnedRound(first, second);
  const setRad = answers.number('set-angle')!;
  const part = partAngle({
    setRad,
    wantedRad: answers.number('wanted-angle') ?? setRad,
    slope: Math.tan(sweep.angleRad),
    stack: answers.word('stack', ['left', 'right']) ?? 'left',
    sweepStandardRad: sweep.standardRad,
    sweepDegreesOfFreedom: sweep.degreesOfFreedom,
    setStandardRad: answers.number('set-uncertainty') ?? 0,
  });
  const toleranceRad = limitRad(limit, first.lengthMm);
  const verdict = judgePart(part, toleranceRad, false);
  const expanded =
    part.standardRad === null
      ? ''
      : ` ± ${formatAngle(coverageFactor95(part.degreesOfFreedom) * part.standardRad)}`;
  const off = formatAngle(part.offRad, { plus: true });
  return {
    ...own,
    verdict,
    sentence: `${verdict[0]!.toUpperCase()}${verdict.slice(1)}. The part is ${formatAngle(part.partAngleRad)}${expanded}, ${off} off what is wanted.`,
    correction: verdict === 'true' ? '' : changeWords(part.offRad),
    figures: [
      ...own.figures,
      { name: 'part angle', value: `${formatAngle(part.partAngleRad)}${expanded}` },
      { name: 'tolerance', value: `±${formatAngle(toleranceRad)}` },
      ...(sweep.turnedRad === null
        ? []
        : [{ name: 'of the bar itself', value: formatAngle(sweep.turnedRad, { plus: true }) }]),
    ],
    aim: {
      stackLeftSlope: nextTargetSlope(part.offRad, 'left'),
      stackRightSlope: nextTargetSlope(part.offRad, 'right'),
    },
  };
}
