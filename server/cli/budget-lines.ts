import type { Budget } from '@taptrue/protocol';
import { textTable } from './text-table.ts';

/** The budget as lines for a terminal. */
export function budgetLines(budget: Budget): string {
  const rows = budget.lines.map((line) => [
    line.name,
    line.valueText,
    line.distribution,
    `${line.arcsec.toFixed(1)}″`,
    `${line.source}${line.assumed ? ' (assumed)' : ''}`,
  ]);
  const dof = budget.degreesOfFreedom === null ? 'large' : budget.degreesOfFreedom.toFixed(1);
  return [
    textTable(['part', 'value', 'distribution', '1 s', 'source'], rows),
    '',
    `combined ${budget.combinedArcsec.toFixed(1)}″, degrees of freedom ${dof}, k ${budget.coverageFactor.toFixed(2)}, expanded ±${budget.expandedArcsec.toFixed(1)}″ (95 %)`,
    budget.sentence,
  ].join('\n');
}
