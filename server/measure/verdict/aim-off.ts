import { formatAngle, radiansFromArcsec, type Setup, type SweepResult } from '@taptrue/protocol';
import { judge } from './verdict.ts';

/** By how much the tap is aimed off the target, radians, positive counter-clockwise; 0: not at all. */
export function aimedOffRad(targetSlope: number, aimedSlope: number | undefined): number {
  return aimedSlope === undefined ? 0 : Math.atan(aimedSlope) - Math.atan(targetSlope);
}

/** `Aimed off by 0° 0′ 12″ clockwise, for tightening.`; empty: it is not. */
export function aimedOffWords(aimedRad: number): string {
  if (aimedRad === 0) return '';
  return `Aimed off by ${formatAngle(Math.abs(aimedRad))} ${aimedRad > 0 ? 'counter-clockwise' : 'clockwise'}, for tightening.`;
}

/** True where the line lies inside the limit of the slope that is aimed at, guarded as a verdict is. */
export function liesWhereAimed(
  result: SweepResult,
  aimedSlope: number,
  rule: Setup['decisionRule'],
): boolean {
  if (result.limitArcsec === null) return false;
  const u = result.angleStandardUncertaintyArcsec;
  const judged = judge(
    Math.atan(result.slope) - Math.atan(aimedSlope),
    u === null ? null : radiansFromArcsec(u),
    radiansFromArcsec(result.limitArcsec),
    rule,
    result.degreesOfFreedom,
  );
  return judged.verdict === 'true';
}
