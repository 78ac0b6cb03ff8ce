import { formatAngle, formatLength, placeOfPoint } from '@taptrue/protocol';
import { judgeCircle } from './circle/judge-circle.ts';
import type { CircleSetUp } from './set-up.ts';
import type { SetUpOutcome, SetUpQuestion } from './set-up-question.ts';
import type { Answers } from './told.ts';

const DEGREE = Math.PI / 180;

/** Readings round a circle, judged by what was told of it. */
export function judgeCircleSetUp(
  row: CircleSetUp,
  question: SetUpQuestion,
  answers: Answers,
): SetUpOutcome {
  const { unit } = question;
  const limitMm = answers.number('limit') ?? row.usualLimit.mm;
  const jawOneRad = answers.number('jaw-one');
  const outcome = judgeCircle({
    setUp: row,
    points: question.points.map((point) => ({
      angleDeg: placeOfPoint(point),
      readingMm: point.readingMm,
    })),
    diameterMm: answers.number('diameter')!,
    displayUnit: unit,
    rises: answers.word('rises', ['toward', 'away']),
    face: answers.word('face', ['bore', 'boss']),
    turns: answers.word('turns', ['spindle', 'work']),
    jawOneDeg: jawOneRad === null ? null : jawOneRad / DEGREE,
    limitMm,
    resolutionMm: question.resolutionMm,
    permissibleErrorMm: question.permissibleErrorMm,
    repeatabilityMm: question.repeatabilityMm,
  });
  if (!outcome.ok) return outcome;
  const { result } = outcome;
  const fine = (mm: number) => formatLength(mm, unit, { decimals: unit === 'in' ? 5 : 4 });
  const expanded = result.amplitudeExpandedMm;
  return {
    ok: true,
    judged: {
      verdict: result.verdict,
      // What to move stands by itself.
      sentence: result.sentence.replace(` ${result.correction?.words}`, ''),
      correction: result.verdict === 'true' ? '' : (result.correction?.words ?? ''),
      figures: [
        {
          name: 'half the movement of the needle',
          value: `${fine(result.amplitudeMm)}${expanded === null ? '' : ` ± ${fine(expanded)}`}`,
        },
        { name: 'highest at', value: `${result.towardDeg.toFixed(1)}°` },
        {
          name: 'out of round',
          value: result.outOfRoundMm === null ? 'not seen' : fine(result.outOfRoundMm),
        },
        ...(result.tiltRad === null ? [] : [{ name: 'tilt', value: formatAngle(result.tiltRad) }]),
        ...(result.correction?.parts ?? []).map(({ name, words }) => ({ name, value: words })),
        { name: 'limit', value: fine(limitMm) },
      ],
      cautions: [
        ...result.cautions,
        ...row.cautions.map((text) => ({ code: 'of-this-set-up', text })),
      ],
      curve: {
        meanMm: result.meanMm,
        perMm: 0,
        cosMm: result.amplitudeMm * Math.cos(result.towardDeg * DEGREE),
        sinMm: result.amplitudeMm * Math.sin(result.towardDeg * DEGREE),
      },
      aim: null,
    },
  };
}
