import {
  formatAngle,
  formatLength,
  formatSlope,
  type LengthUnit,
  type Limit,
  radiansFromArcsec,
  type SweepResult,
} from '@taptrue/protocol';
import { guardFactor } from '../measure/verdict/verdict.ts';
import { limitLength } from '../measure/verdict/words.ts';

/** One decimal more than on the screen: who asks the command line wants to check. */
function fine(mm: number, unit: LengthUnit, plus = false): string {
  return formatLength(mm, unit, { decimals: unit === 'in' ? 5 : 4, plus });
}

function plusMinus(text: string | null): string {
  return text === null ? '   uncertainty not known' : `   ± ${text} (95 %)`;
}

function row(name: string, value: string): string {
  return `  ${name.padEnd(15)}${value}`;
}

function limitWords(limit: Limit, result: SweepResult, unit: LengthUnit): string {
  const rule =
    result.decisionRule === 'guarded'
      ? `guarded by ${guardFactor(result.degreesOfFreedom).toFixed(3)} u`
      : 'compared as it is';
  const size =
    limit.kind === 'angle'
      ? formatAngle(limit.rad)
      : `${limitLength(limit.mm, unit)} over ${formatLength(limit.overMm ?? result.lengthMm, unit)}`;
  return `${size}, ${rule}`;
}

/** The result of one sweep as lines for a terminal; `alwaysMind` is what its set-up always says. */
export function fitReport(
  result: SweepResult,
  limit: Limit | null,
  unit: LengthUnit,
  alwaysMind: readonly string[] = [],
): string {
  const arcsec = result.outOfTrueArcsecExpanded;
  const expandedAngle = arcsec === null ? null : formatAngle(radiansFromArcsec(arcsec));
  const expandedLength =
    result.endToEndExpandedMm === null ? null : fine(result.endToEndExpandedMm, unit);
  const lines = [
    result.sentence,
    '',
    row(
      'swept',
      `${formatLength(result.lengthMm, unit)}, from ${formatLength(result.fromMm, unit)} to ${formatLength(result.toMm, unit)}, ${result.points} points`,
    ),
    row(
      'out of true',
      `${formatAngle(result.outOfTrueRad, { plus: true })}   ${formatSlope(result.slope, unit)}${plusMinus(expandedAngle)}`,
    ),
    row('end to end', `${fine(result.endToEndMm, unit, true)}${plusMinus(expandedLength)}`),
    row('straightness', straightness(result, unit)),
  ];
  if (result.residualStandardDeviationMm !== null) {
    lines.push(row('scatter', `${fine(result.residualStandardDeviationMm, unit)} (1 s)`));
  }
  if (result.passes.length > 1) lines.push(...passLines(result, unit));
  if (result.deviationArcsec !== result.outOfTrueArcsec) {
    const offRad = radiansFromArcsec(result.deviationArcsec);
    lines.push(row('off target', formatAngle(offRad, { plus: true })));
  }
  if (limit && result.verdict) {
    lines.push(row('limit', limitWords(limit, result, unit)));
    lines.push(row('verdict', result.verdict));
  }
  if (result.tapToReadingMm !== null) lines.push(row('stop at', tapToWords(result, unit)));
  if (result.uncertaintyParts.length > 0) {
    lines.push('', 'Uncertainty is made of (1 s):');
    for (const part of result.uncertaintyParts) {
      lines.push(`  ${formatAngle(radiansFromArcsec(part.arcsec)).padEnd(13)}${part.name}`);
    }
  }
  const minds = [...result.cautions.map(({ text }) => text), ...alwaysMind];
  if (minds.length > 0) lines.push('', 'Mind:', ...minds.map((text) => `  - ${text}`));
  return lines.join('\n');
}

function straightness(result: SweepResult, unit: LengthUnit): string {
  if (result.passes.every((pass) => pass.points === 2)) return 'not to be seen with two stations';
  const leastSquares = fine(result.straightnessLeastSquaresMm, unit);
  return `${leastSquares} about the line, ${fine(result.straightnessMinimumZoneMm, unit)} minimum zone`;
}

function passLines(result: SweepResult, unit: LengthUnit): string[] {
  const lines = result.passes.map((pass) =>
    row(pass.pass, `${formatAngle(Math.atan(pass.slope), { plus: true })}   ${pass.points} points`),
  );
  if (result.gapMm !== null)
    lines.push(row('gap', `${fine(result.gapMm, unit, true)} at mid length`));
  if (result.closureMm !== null) {
    lines.push(row('closure', `${fine(result.closureMm, unit, true)} at the start on return`));
  }
  return lines;
}

function tapToWords(result: SweepResult, unit: LengthUnit): string {
  const reading = formatLength(result.tapToReadingMm ?? 0, unit, { plus: true });
  return result.tapToAtMm === null
    ? `${reading}, at any station`
    : `${reading}, stylus at ${formatLength(result.tapToAtMm, unit)}`;
}
