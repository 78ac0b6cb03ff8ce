import {
  formatAngle,
  formatLength,
  fromMm,
  type LengthUnit,
  type Limit,
  type TapAdvice,
  toMm,
  usualDecimals,
  type Verdict,
} from '@taptrue/protocol';
import { aimedOffWords } from './aim-off.ts';

const DIRECTION_WORDS: Readonly<Record<TapAdvice['direction'], string>> = {
  away: 'away from you',
  toward: 'toward you',
  left: 'to the left',
  right: 'to the right',
};

export interface SentenceQuestion {
  displayUnit: LengthUnit;
  axis: 'x' | 'y';
  senseKnown: boolean;
  lengthMm: number;
  /** Signed end-to-end deviation from the target, mm. */
  deviationMm: number;
  /** The target is a slope, not the axis itself: then the end lies farther than wanted, not just farther. */
  targetIsSloped: boolean;
  /** What the limit is guarded by, mm: t(0.95, ν) u; null: not known. */
  guardMm: number | null;
  guarded: boolean;
  limit: Limit | null;
  verdict: Verdict | null;
  tap: TapAdvice | null;
  tapToReadingMm: number | null;
  /** The tap is aimed off the target by this, radians; 0: it is not. */
  aimedOffRad: number;
}

/** `Tap the right end, away from you, 0.0034 in; stop at +0.0021.`; null: the amount rounds to nothing. */
export function tapSentence(
  tap: TapAdvice,
  tapToReadingMm: number | null,
  unit: LengthUnit,
): string | null {
  const amount = formatLength(tap.amountMm, unit);
  if (Number.parseFloat(amount) === 0) return null;
  const stop =
    tapToReadingMm === null
      ? ''
      : `; stop at ${formatLength(tapToReadingMm, unit, { plus: true, bare: true })}`;
  return `Tap the ${tap.end} end, ${DIRECTION_WORDS[tap.direction]}, ${amount}${stop}.`;
}

/** A limit given in the other unit may need a decimal more: 1 µm is not 0.0000 in. Off by 1 % at most. */
export function limitLength(mm: number, unit: LengthUnit): string {
  let decimals = usualDecimals(unit);
  const shown = () => Number(fromMm(mm, unit).toFixed(decimals));
  while (decimals < 7 && Math.abs(toMm(shown(), unit) - mm) > 0.01 * mm) decimals += 1;
  return formatLength(mm, unit, { decimals });
}

function limitWords(limit: Limit, unit: LengthUnit): string {
  if (limit.kind === 'angle') return `limit ${formatAngle(limit.rad)}`;
  const over = limit.overMm === null ? '' : ` over ${formatLength(limit.overMm, unit)}`;
  return `limit ${limitLength(limit.mm, unit)}${over}`;
}

/** `the right end lies 0.0034 in farther away over 5.0000 in`, as far as it is known. */
function lies(question: SentenceQuestion): string {
  const unit = question.displayUnit;
  const size = formatLength(Math.abs(question.deviationMm), unit);
  const over = `over ${formatLength(question.lengthMm, unit)}`;
  if (!question.senseKnown) return `by ${size} ${over}, which way is not known`;
  const isPositive = question.deviationMm >= 0;
  const wanted = question.targetIsSloped ? ' than wanted' : '';
  return question.axis === 'x'
    ? `the ${isPositive ? 'right' : 'left'} end lies ${size} farther away${wanted} ${over}`
    : `the far end lies ${size} farther ${isPositive ? 'left' : 'right'}${wanted} ${over}`;
}

/** To the next digit shown, and never to none: what is claimed as proved is not rounded in our favour. */
function roundedUpMm(mm: number, unit: LengthUnit): number {
  const digitMm = toMm(10 ** -usualDecimals(unit), unit);
  return Math.max(1, Math.ceil(mm / digitMm - ROUNDING_SLACK)) * digitMm;
}

/** A figure that is a whole number of digits stays what it is: the last binary place is no digit. */
const ROUNDING_SLACK = 1e-9;

/** The result of one sweep in one sentence, in the display unit. */
export function resultSentence(question: SentenceQuestion): string {
  const { displayUnit: unit, limit, verdict } = question;
  const over = `over ${formatLength(question.lengthMm, unit)}`;
  const size = formatLength(Math.abs(question.deviationMm), unit);
  const advice = question.tap && tapSentence(question.tap, question.tapToReadingMm, unit);
  const aimed = aimedOffWords(question.aimedOffRad);
  const tap = advice && aimed !== '' ? `${advice} ${aimed}` : advice;
  const limited = limit ? `; ${limitWords(limit, unit)}` : '';

  if (verdict === 'true') {
    // What has been proved, not what was measured: the guarded rule adds its guard to the figure.
    const guardMm = question.guarded ? (question.guardMm ?? 0) : 0;
    const within = formatLength(roundedUpMm(Math.abs(question.deviationMm) + guardMm, unit), unit);
    return `True within ${within} ${over}${limited}.`;
  }
  if (verdict === 'too close to call') {
    const guard = question.guardMm === null ? '' : ` ± ${formatLength(question.guardMm, unit)}`;
    const then = tap ? ` ${tap}` : '';
    return `Too close to call: ${size}${guard} ${over}${limited}.${then}`;
  }
  if (tap) return tap;
  if (verdict === 'not true') return `Not true: ${lies(question)}${limited}.`;
  return `Out of true: ${lies(question)}.`;
}
