import {
  type BuiltStack,
  formatAngle,
  formatLength,
  RADIANS_PER_ARCSEC,
  type Setup,
  type SweepResult,
} from '@taptrue/protocol';
import { factList } from './html.ts';
import type { SheetFacts } from './sheet-facts.ts';

const arcsec = (value: number, plus = false) => formatAngle(value * RADIANS_PER_ARCSEC, { plus });

export function jobFacts({ state, opened, lastWallClock }: SheetFacts): string {
  const { card } = state;
  return factList([
    ['job number', card.jobNumber],
    ['part', card.part],
    ['machine and vise', card.machine],
    ['set by', card.operator],
    ['bench', `${opened.bench}, job ${opened.start.job}`],
    ['begun', minute(opened.wallClock)],
    ['last entry', minute(lastWallClock)],
  ]);
}

export function indicatorFacts({ state }: SheetFacts): string {
  const { card, setup, nudges, links } = state;
  const { displayUnit: unit, indicator, stylus } = setup;
  const length = (mm: number | null) =>
    mm === null ? 'not given' : formatLength(mm, unit, { decimals: unit === 'in' ? 5 : 4 });
  const scale =
    stylus.kind === 'nudge factor'
      ? `${stylus.factor.toFixed(4)} true per shown, from the nudge`
      : stylus.kind === 'stylus angle'
        ? `cosine of ${formatAngle(stylus.rad)}`
        : 'as read';
  return factList([
    ['indicator', card.indicator],
    ['last checked', card.indicatorChecked],
    ['read by', setup.entry === 'keyed' ? 'eye, typed in' : (links.indicator.config?.shape ?? '')],
    [
      'rises',
      setup.rises === null
        ? 'not known'
        : setup.rises === 'toward'
          ? 'toward the operator'
          : 'away from the operator',
    ],
    ['nudge; scale', `${nudgeWords(nudges.y)}; ${scale}`],
    ['smallest count', length(indicator.resolutionMm)],
    ['permissible error', length(indicator.permissibleErrorMm)],
  ]);
}

function nudgeWords({
  state,
  factor,
  remembered,
}: {
  state: string;
  factor: number | null;
  remembered: boolean;
}): string {
  if (state !== 'done') return state;
  const size = factor === null ? '' : `, ${factor.toFixed(3)} true per shown`;
  return `done${remembered ? ' in an earlier job' : ''}${size}`;
}

export function angleFacts({ plan, state }: SheetFacts): string {
  const { setup } = state;
  const axis = setup.axis.toUpperCase();
  if (!plan)
    return factList([
      ['angle as written', null],
      ['angle as set', null],
      ['swept along', axis],
      ['aimed for', aimWords(setup)],
    ]);
  const { question, answer } = plan;
  const set =
    answer.angleSetDeg === null
      ? answer.angle.dmsText
      : `${arcsec(answer.angleSetDeg * 3600)} (${arcsec(answer.angleErrorArcsec ?? 0, true)})`;
  return factList([
    ['angle as written', `${question.angle.text}, ${answer.written.dmsText}`],
    [
      'measured from',
      [answer.written.from, question.referenceLine].filter((text) => text.trim() !== '').join(': '),
    ],
    ['to be set', answer.angle.dmsText],
    ['as set by the stack', set],
    ['hand', answer.direction.endAway && `${answer.direction.endAway} end away`],
    ['swept along', `${axis}, ${aimWords(setup)}`],
    [
      'tolerance of print',
      answer.toleranceArcsec === null ? 'not given' : `±${arcsec(answer.toleranceArcsec)}`,
    ],
  ]);
}

export function setUpFacts({ plan, state }: SheetFacts): string {
  const { card } = state;
  if (!plan)
    return factList([
      ['bar', null],
      ['blocks', null],
      ['re-added by', card.readdedBy],
    ]);
  const { question, answer, taken, takenLow } = plan;
  const bar = answer.barAngle === null ? null : question.bar;
  return factList([
    ['bar', bar ? `${bar.length} between the rolls, ${bar.lengthIs}` : 'none: the jaw is swept'],
    ...stackRows('blocks', answer.stack, taken),
    ...stackRows('under the other roll', answer.lowRollStack, takenLow),
    ['set', answer.stack ? question.setId : 'no stack'],
    ['re-added by', card.readdedBy],
  ]);
}

function stackRows(
  name: string,
  stack: BuiltStack | null,
  taken: readonly string[],
): [string, string][] {
  if (!stack) return [];
  const planned = [...stack.wear, ...stack.blocks].join(' + ');
  return [
    [name, `${planned} = ${stack.sumText} ${stack.unit}`],
    ['keyed again', taken.length === 0 ? 'not done' : taken.join(' + ')],
  ];
}

function aimWords({ targetSlope }: Setup): string {
  return targetSlope === 0 ? 'no change of reading' : `a slope of ${targetSlope.toFixed(6)}`;
}

/** The limit as it was set, and as an angle. */
export function limitWords({ limit, displayUnit: unit }: Setup, result: SweepResult): string {
  if (limit === null || result.limitArcsec === null) return 'none was set';
  const angle = `±${arcsec(result.limitArcsec)}`;
  if (limit.kind === 'angle') return angle;
  const over = limit.overMm === null ? 'end to end' : `over ${formatLength(limit.overMm, unit)}`;
  return `±${formatLength(limit.mm, unit)} ${over}, ${angle}`;
}

export function minute(wallClock: string): string {
  return wallClock === '' ? '' : `${wallClock.slice(0, 16).replace('T', ' ')} UTC`;
}
