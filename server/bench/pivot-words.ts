import {
  arcsecFromRadians,
  formatAngle,
  formatLength,
  type PivotSection,
  radiansFromArcsec,
  type Setup,
  type Stage,
  type SweepResult,
} from '@taptrue/protocol';
import type { PivotInUse, TappedEnd } from './pivot-in-use.ts';

/** `1.20 from the left end`, as places on the work are said. */
function placeWords(xMm: number, { displayUnit, axis }: Setup): string {
  const decimals = displayUnit === 'in' ? 2 : 0;
  const beside = xMm < 0 ? 'outside' : 'from';
  return `${formatLength(Math.abs(xMm), displayUnit, { decimals })} ${beside} the ${axis === 'x' ? 'left' : 'near'} end`;
}

export function pivotSentence(
  inUse: PivotInUse,
  end: TappedEnd,
  setup: Setup,
  stage: Stage,
): string {
  const unit = setup.displayUnit;
  const within = `± ${formatLength(inUse.uncertaintyMm, unit, { decimals: unit === 'in' ? 3 : 1 })}`;
  const place = placeWords(inUse.xMm, setup);
  return inUse.source === 'declared'
    ? `Pivot as declared: ${setup.pivot.choice === 'typed' ? 'typed' : `the ${setup.pivot.choice}`}, ${place}, ${within}.`
    : `Pivot learned from the sweeps at ${stage}, tapping the ${end} end: ${place}, ${within}.`;
}

/** Why the mallet strikes where it was not set to; empty: it strikes there. */
export function malletWords({ mallet, malletMm, xMm }: PivotInUse, setup: Setup): string {
  if (mallet === 'chosen') return '';
  const farther = setup.axis === 'x' ? ['left', 'right'] : ['near', 'far'];
  const middleMm = (setup.vise.leftEndMm + setup.vise.rightEndMm) / 2;
  const strikes = farther[malletMm >= middleMm ? 1 : 0]!;
  const other = farther[malletMm >= middleMm ? 0 : 1]!;
  return mallet === 'other'
    ? `The pivot lies near the ${other} end, where a blow hardly turns the vise: strike at the ${strikes} end.`
    : `The pivot lies ${placeWords(xMm, setup)}, near both places of the mallet: a blow hardly turns the vise. Loosen one clamp and nip the other, so that the vise turns there, and strike at the end you loosened.`;
}

/** A turn that nobody is known to have made. */
export function untappedQuestion(
  before: SweepResult,
  after: SweepResult,
): NonNullable<PivotSection['question']> {
  const turnedArcsec =
    arcsecFromRadians(Math.atan(after.slope)) - arcsecFromRadians(Math.atan(before.slope));
  return {
    asks: 'untapped',
    text: `No tap was noticed since the sweep before, but the bar turned by ${formatAngle(radiansFromArcsec(Math.abs(turnedArcsec)))}. Was the vise tapped?`,
    yes: 'Yes, it was tapped',
    no: 'No, or not sure',
  };
}

/** Two lines that cross where nobody said the vise turns: another pivot, or another zero. */
export function elsewhereQuestion(
  foundMm: number,
  declaredMm: number,
  setup: Setup,
): NonNullable<PivotSection['question']> {
  return {
    asks: 'elsewhere',
    text: `The last two sweeps say the vise turns ${placeWords(foundMm, setup)}; you said ${placeWords(declaredMm, setup)}. A dial that was zeroed, or a bar that was moved, looks the same. Was neither touched between the two sweeps?`,
    yes: 'Neither was touched: go by the sweeps',
    no: 'Not sure: keep what was said',
  };
}

/** The whole line lies elsewhere, with nothing tapped. */
export function shiftedWords(shiftMm: number, { displayUnit }: Setup): string {
  return `nothing was tapped, and the whole line lies ${formatLength(Math.abs(shiftMm), displayUnit)} from where it lay: the dial was zeroed, or bar or indicator moved`;
}
