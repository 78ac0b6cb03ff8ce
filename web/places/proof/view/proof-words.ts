import {
  formatAngle,
  formatLength,
  type JobRow,
  type LengthUnit,
  radiansFromArcsec,
  type SweepRow,
  type TurnRow,
} from '@taptrue/protocol';
import { turnText } from '../../../view/words.ts';

/** `Job 12, W-0031`: the bench's number, and the shop's where one was given. */
export function jobTitle({ number, card }: Pick<JobRow, 'number' | 'card'>): string {
  return card.jobNumber === '' ? `Job ${number}` : `Job ${number}, ${card.jobNumber}`;
}

/** Part, machine and operator as far as they were given. */
export function cardLine({ card }: Pick<JobRow, 'card'>): string {
  const said = [card.part, card.machine, card.operator].filter((word) => word !== '');
  return said.length === 0 ? 'no card was written' : said.join(' · ');
}

/** `0° 0′ 41″ ± 6″`, without a sign: which way is said in the sentence. */
export function angleWithin(arcsec: number | null, expandedArcsec: number | null): string {
  if (arcsec === null) return 'no line';
  const angle = formatAngle(radiansFromArcsec(Math.abs(arcsec)));
  if (expandedArcsec === null) return angle;
  return `${angle} ± ${formatAngle(radiansFromArcsec(expandedArcsec)).replace(/^0° 0′ /, '')}`;
}

/** `0.0034 in end to end`; empty where there is no line. */
export function endToEndText({ endToEndMm }: SweepRow, unit: LengthUnit): string {
  return endToEndMm === null ? '' : `${formatLength(Math.abs(endToEndMm), unit)} end to end`;
}

/** What lay between a sweep and the one before it. */
export function turnWords(turn: TurnRow): string {
  const done = [
    turn.tapped === null ? '' : `tapped at the ${turn.tapped} end`,
    turn.clampChanges === 0
      ? ''
      : turn.stageBefore === turn.stageAfter
        ? 'clamps changed and put back'
        : `clamps from ${turn.stageBefore} to ${turn.stageAfter}`,
    turn.zeroMoved === null ? '' : 'the zero moved',
  ].filter((words) => words !== '');
  const since = done.length === 0 ? 'no tap was noticed' : done.join(', ');
  return `Since sweep ${turn.before}: ${since}; turned ${turnText(turn.turnedArcsec)}.`;
}
