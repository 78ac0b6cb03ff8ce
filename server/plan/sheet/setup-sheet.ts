import {
  type BuiltStack,
  formatAngle,
  formatLength,
  type PlanAnswer,
  type PlanQuestion,
} from '@taptrue/protocol';
import { dmsText } from '../angle/echo-angle.ts';
import { sheetPicture } from './picture.ts';
import { SHEET_STYLE } from './style.ts';

export type Paper = 'a4' | 'letter';

/** What the margins leave of the height, less 2 mm that a printer may round away. */
const PAGE_MM: Readonly<Record<Paper, number>> = { a4: 271, letter: 253 };

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

function safe(text: string): string {
  return text.replace(/[&<>"']/g, (mark) => ENTITIES[mark]!);
}

function facts(rows: readonly (readonly [string, string | null])[]): string {
  const known = rows.filter(
    (row): row is readonly [string, string] => row[1] !== null && row[1] !== '',
  );
  return `<dl>${known.map(([name, value]) => `<dt>${safe(name)}</dt><dd>${safe(value)}</dd>`).join('')}</dl>`;
}

function stackTable(stack: BuiltStack, title: string): string {
  const rows = [
    ...stack.wear.map((size) => [size, 'wear, outside'] as const),
    ...stack.blocks.map((size) => [size, ''] as const),
  ];
  const body = rows
    .map(
      ([size, note]) =>
        `<tr><td><span class="box"></span></td><td>${safe(size)}</td><th>${note}</th></tr>`,
    )
    .join('');
  return `<h2>${title}</h2><table>${body}<tr class="sum"><td>sum</td><td>${safe(stack.sumText)}</td><th>${stack.unit}</th></tr></table>`;
}

/** How far the stack misses the angle, in words that never say minus nothing. */
function offText(arcsec: number): string {
  if (Math.abs(arcsec) < 0.05) return 'exactly';
  return `(${arcsec < 0 ? '−' : '+'}${Math.abs(arcsec).toFixed(1)}″)`;
}

function limitText(answer: PlanAnswer, question: PlanQuestion): string | null {
  const { limit } = answer;
  if (limit === null) return null;
  if (limit.kind === 'angle') {
    const over = question.displayUnit === 'in' ? 127 : 100;
    return `±${formatAngle(limit.rad)}, that is ${formatLength(Math.tan(limit.rad) * over, question.displayUnit)} over ${question.displayUnit === 'in' ? '5 in' : '100 mm'}`;
  }
  return `${formatLength(limit.mm, question.displayUnit)} over ${formatLength(limit.overMm ?? 0, question.displayUnit)}`;
}

function steps(answer: PlanAnswer): string {
  const common = [
    'Spindle stopped and in neutral. Nobody else at the controls. Wrench off the drawbar.',
    'Clean and stone table, vise and jaw; wipe blocks and rolls.',
    ...(answer.stack
      ? [
          'Wring the stack from the last decimal up; let it soak beside the bar. A second person adds it.',
        ]
      : []),
    ...answer.direction.steps.slice(0, -1),
    ...(answer.stack
      ? ['Light hold, bar level on clean parallels; no paper enters at roll, stack or jaw.']
      : []),
    'One clamp just snug as pivot, the other dragging. Nudge Y, then X, to prove sign and scale.',
    answer.direction.steps.at(-1)!,
    'Soft face only; hands clear of jaw and mallet. Tap the vise, never bar or blocks.',
    'Sweep again at nipped, snug and tight. Loose: do not cut.',
    'Indicator out, bar and stack out, wrench off, clamps tight, before any power.',
  ];
  return `<ol>${common.map((text) => `<li>${safe(text)}</li>`).join('')}</ol>`;
}

/**
 * The setup sheet of a plan as one self-contained HTML page that prints on one sheet of A4 or Letter.
 * `dateText` is printed as given, so that the same plan gives the same sheet.
 */
export function setupSheet(
  question: PlanQuestion,
  answer: PlanAnswer,
  paper: Paper,
  dateText: string,
): string {
  const unit = question.displayUnit;
  const bar = question.bar && answer.barAngle ? question.bar : null;
  const isComplement = answer.way === 'complement';
  const setAs =
    answer.angleSetDeg === null
      ? null
      : `${dmsText(answer.angleSetDeg * 3600)} ${offText(answer.angleErrorArcsec ?? 0)}`;
  const title = question.job.trim() === '' ? 'Setup sheet' : question.job;
  const left = facts([
    [
      'angle as written',
      `${question.angle.text}${question.angle.kind === 'angle' ? '' : ` (${question.angle.kind})`}`,
    ],
    ['that is', answer.written.dmsText],
    [
      'measured from',
      question.referenceLine.trim() === ''
        ? answer.written.from
        : `${answer.written.from}: ${question.referenceLine}`,
    ],
    ['to be set', `${answer.angle.dmsText} = ${answer.angle.degText}`],
    ['angle as set', setAs],
    ['bar set at', isComplement ? `${answer.barAngle!.dmsText}, the complement` : null],
    [
      'hand',
      answer.direction.endAway === null
        ? null
        : `${answer.direction.endAway} end of the jaw away from you`,
    ],
    ['turn', answer.direction.turn === 'none' ? null : `${answer.direction.turn}, seen from above`],
  ]);
  const right = facts([
    ['bar', bar && `${bar.length} between roll centres, ${bar.lengthIs}`],
    ['true length', bar ? (bar.lengthIs === 'certified' ? bar.length : '____________') : null],
    ['stack under', answer.direction.stackEnd && `${answer.direction.stackEnd} roll`],
    [
      'height wanted',
      answer.exactHeightMm === null
        ? null
        : formatLength(answer.exactHeightMm, unit, { decimals: unit === 'in' ? 5 : 4 }),
    ],
    [
      'left over',
      answer.leftoverMm === null
        ? null
        : formatLength(answer.leftoverMm, unit, { decimals: unit === 'in' ? 6 : 5, plus: true }),
    ],
    ['sweep along', answer.direction.sweepAxis.toUpperCase()],
    [
      'aim for',
      answer.targetSlope === 0
        ? 'no change of reading'
        : `a slope of ${answer.targetSlope.toFixed(6)}`,
    ],
    ['sweep limit', limitText(answer, question)],
    ['can be held to', answer.budget && `±${dmsText(answer.budget.expandedArcsec)} (95 %)`],
  ]);
  const stacks =
    [
      answer.stack &&
        stackTable(answer.stack, answer.lowRollStack ? 'Stack under the high roll' : 'Stack'),
      answer.lowRollStack && stackTable(answer.lowRollStack, 'Under the low roll'),
    ]
      .filter(Boolean)
      .join('') ||
    (answer.barAngle
      ? '<h2>Stack</h2><p>Not decided: this height cannot be built from the set.</p>'
      : '<h2>Stack</h2><p>None: the jaw itself is swept.</p>');
  const mind =
    answer.cautions.length === 0
      ? ''
      : `<h2>Mind</h2><ul>${answer.cautions.map((caution) => `<li>${safe(caution.text)}</li>`).join('')}</ul>`;
  const boxes = ['set up by', 'stack added by', 'swept true by', 'first piece by'];
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${safe(title)}</title>
<style>@page{size:${paper === 'a4' ? 'A4' : 'letter'};margin:12mm}${SHEET_STYLE}body{min-height:${PAGE_MM[paper]}mm}</style></head><body>
<header><h1>${safe(title)}</h1><span>${safe(dateText)}</span></header>
<div class="columns"><section><h2>The angle</h2>${left}</section><section><h2>The set-up</h2>${right}</section></div>
<h2>Seen from above</h2>${sheetPicture(question, answer)}
<div class="columns work"><section>${stacks}${mind}</section><section><h2>Steps</h2>${steps(answer)}</section></div>
<div class="initials">${boxes.map((text) => `<div>${text}</div>`).join('')}</div>
<footer>${safe(answer.limitSentence)} Local rules and licensed practice come first. This sheet is no interlock and commands nothing.</footer>
</body></html>
`;
}
