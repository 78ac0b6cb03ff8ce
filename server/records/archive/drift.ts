import { type Drift, formatAngle, radiansFromArcsec } from '@taptrue/protocol';
import { fitLine } from '../../measure/sweep/fit-line.ts';
import { coverageFactor95 } from '../../measure/verdict/student-t.ts';
import { spreadOf } from './spread.ts';

const MS_A_DAY = 86_400_000;
const DAYS_A_MONTH = 30;

/** Fewer final sweeps say nothing of a trend: with four, two degrees of freedom are left. */
export const LEAST_FOR_TREND = 5;
/** Days they must span: the setting of one week is luck, not drift. */
export const LEAST_DAYS = 7;

/** How the final sweeps of one vise lay by date, with a straight trend where there is enough of it. Pure. */
export function driftOf(machine: string, points: Drift['points']): Drift {
  const angles = points.map(({ arcsec }) => arcsec);
  const spread = spreadOf(angles);
  const vise = machine === '' ? 'the vise (no machine is named on the cards)' : machine;
  if (spread === null)
    return {
      machine,
      points,
      trend: null,
      words: `No final sweep of ${vise} is kept yet: a job’s last sweep at tight is one.`,
    };
  const days = points.map(({ endedAt }) => Date.parse(endedAt) / MS_A_DAY);
  const spanDays = Math.max(...days) - Math.min(...days);
  const count = points.length === 1 ? 'One final sweep' : `${points.length} final sweeps`;
  if (points.length < LEAST_FOR_TREND || !(spanDays >= LEAST_DAYS)) {
    return {
      machine,
      points,
      trend: null,
      words: `${count} of ${vise} over ${daysText(spanDays)}: too few for a trend. It is told from ${LEAST_FOR_TREND} jobs over ${LEAST_DAYS} days on.`,
    };
  }
  const fitted = fitLine(days, angles);
  if (!fitted.ok || fitted.line.slopeStandardError === null)
    return { machine, points, trend: null, words: `${count} of ${vise}: no trend can be fitted.` };
  const perMonth = fitted.line.slope * DAYS_A_MONTH;
  const expanded =
    coverageFactor95(points.length - 2) * fitted.line.slopeStandardError * DAYS_A_MONTH;
  const isDrifting = Math.abs(perMonth) > expanded;
  const angle = (arcsec: number) => formatAngle(radiansFromArcsec(Math.abs(arcsec)));
  const way = perMonth > 0 ? 'counter-clockwise' : 'clockwise';
  return {
    machine,
    points,
    trend: {
      arcsecPerMonth: perMonth,
      expandedArcsecPerMonth: expanded,
      meanArcsec: spread.mean,
      spreadArcsec: spread.standardDeviation ?? 0,
    },
    words: isDrifting
      ? `${count} of ${vise} over ${daysText(spanDays)} turn ${angle(perMonth)} ${way} a month, ± ${angle(expanded)}: look at what wears or works loose.`
      : `${count} of ${vise} over ${daysText(spanDays)} show no drift: ${angle(perMonth)} a month is within ± ${angle(expanded)}. They lie ± ${angle(spread.standardDeviation ?? 0)} about their mean (one standard deviation).`,
  };
}

function daysText(days: number): string {
  if (!(days >= 1)) return 'less than a day';
  return days < 2 ? 'a day' : `${Math.round(days)} days`;
}
