import {
  MEASURED_UNDER,
  type MeasuredUnder,
  type Setup,
  type SetupChange,
} from '@taptrue/protocol';

/** Ends marked anew on the same bar differ by less than this share; beyond it is another bar. */
const SAME_BAR_SHARE = 0.1;

/** How each part is called where its change is told; the parts left out say only how the next sweep is taken. */
const WORDS: readonly [part: keyof MeasuredUnder, words: string][] = [
  ['axis', 'axis'],
  ['targetSlope', 'target'],
  ['limit', 'limit'],
  ['decisionRule', 'rule of decision'],
  ['stylus', 'stylus'],
  ['rises', 'sense of the indicator'],
  ['sweptLengthMm', 'length of the bar'],
];

/** The parts as they stand now, to be kept with a sweep that ends. Pure. */
export function measuredUnder(setup: Setup): MeasuredUnder {
  return Object.fromEntries(MEASURED_UNDER.map((part) => [part, setup[part]])) as MeasuredUnder;
}

/**
 * The setup by which an ended sweep is judged: what it was measured under, and the rest (pivot, mallet, unit of
 * the screen, what is known of the indicator) as it is now. A sense that nobody knew then may still be told.
 */
export function asMeasured(setup: Setup, under: MeasuredUnder | null): Setup {
  return under ? { ...setup, ...under, rises: under.rises ?? setup.rises } : setup;
}

/** What of a change makes an ended sweep one of another set-up, in words; empty: nothing. Pure. */
export function changedSince(under: MeasuredUnder, change: SetupChange): string[] {
  return WORDS.filter(([part]) => differs(part, under, change)).map(([, words]) => words);
}

function differs(part: keyof MeasuredUnder, under: MeasuredUnder, change: SetupChange): boolean {
  const now = change[part];
  const then = under[part];
  if (now === undefined) return false;
  // Learned after the sweep, the sense tells more of it; only another one contradicts it.
  if (part === 'rises' && then === null) return false;
  if (part === 'sweptLengthMm')
    return Math.abs((now as number) / (then as number) - 1) > SAME_BAR_SHARE;
  return JSON.stringify(now) !== JSON.stringify(then);
}
