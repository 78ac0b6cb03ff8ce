import {
  formatAngle,
  formatLength,
  formatSlope,
  radiansFromArcsec,
  type SweepResult,
  type SweepSection,
} from '@taptrue/protocol';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Screen } from '../state/latest-state.ts';
import { directionWord } from '../view/words.ts';
import { PlainElement } from './plain-element.ts';

/** Everything the sweep says, as a ruled sheet: names left, figures right. */
@customElement('sweep-result')
export class SweepResultSheet extends PlainElement {
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { sweep } = this.screen.state;
    if (sweep === null || sweep.result === null) return nothing;
    const { result } = sweep;
    return html`<section class="result" aria-label="Result of sweep ${sweep.id}">
      <h2>Sweep ${sweep.id}, ${sweep.stage}${sweep.simulated ? html` <em class="simulated-word">SIMULATED</em>` : nothing}${
        sweep.state === 'being taken' ? ', so far' : ''
      }</h2>
      ${this.renderCautions(sweep)}
      <dl class="sheet">${this.rows(result).map(([name, figure]) => html`<div><dt>${name}</dt><dd>${figure}</dd></div>`)}</dl>
    </section>`;
  }

  private renderCautions(sweep: SweepSection) {
    const skipped = sweep.nudgesSkipped.map((nudge) =>
      nudge === 'y'
        ? 'The saddle nudge was skipped: sign and scale of the dial are as set by hand, not proved.'
        : 'The table nudge was skipped: left and right are as marked, not proved.',
    );
    const texts = [...(sweep.result?.cautions.map(({ text }) => text) ?? []), ...skipped];
    if (texts.length === 0) return nothing;
    return html`<ul class="cautions">${texts.map((text) => html`<li>${text}</li>`)}</ul>`;
  }

  private rows(result: SweepResult): [string, string | TemplateResult][] {
    const unit = this.screen.state.setup.displayUnit;
    const length = (mm: number, plus = false) => formatLength(mm, unit, { plus });
    const angle = (arcsec: number) => formatAngle(radiansFromArcsec(arcsec), { plus: true });
    const rows: [string, string | TemplateResult][] = [
      ['out of true', `${angle(result.outOfTrueArcsec)}`],
      [
        'uncertainty, 95 %',
        result.outOfTrueArcsecExpanded === null
          ? 'not known'
          : `± ${formatAngle(radiansFromArcsec(result.outOfTrueArcsecExpanded))}`,
      ],
      ['slope', formatSlope(result.slope, unit)],
      [
        `end to end over ${formatLength(result.lengthMm, unit, { decimals: unit === 'in' ? 2 : 1 })}`,
        `${length(result.endToEndMm, true)}${result.endToEndExpandedMm === null ? '' : ` ± ${length(result.endToEndExpandedMm)}`}`,
      ],
      [
        'limit',
        result.limitArcsec === null
          ? 'none set'
          : `${formatAngle(radiansFromArcsec(result.limitArcsec))}, ${result.decisionRule === 'guarded' ? 'guarded' : 'compared plainly'}`,
      ],
      ['straightness, narrowest band', length(result.straightnessMinimumZoneMm)],
      ['straightness, about the line', length(result.straightnessLeastSquaresMm)],
      ['points', String(result.points)],
    ];
    if (result.tap !== null) {
      rows.unshift([
        'tap',
        html`<strong>${result.tap.end} end, ${directionWord(result.tap.direction)}, ${length(result.tap.amountMm)}</strong>`,
      ]);
    }
    if (result.tapToReadingMm !== null) {
      const where =
        result.tapToAtMm === null
          ? 'at any station'
          : `at ${formatLength(result.tapToAtMm, unit, { decimals: 3 })}`;
      rows.splice(1, 0, [
        'stop at',
        html`<strong>${length(result.tapToReadingMm, true)}</strong> ${where}`,
      ]);
    }
    for (const pass of result.passes.length > 1 ? result.passes : []) {
      rows.push([`pass ${pass.pass}`, `${formatSlope(pass.slope, unit)}, ${pass.points} points`]);
    }
    if (result.gapMm !== null) rows.push(['gap between out and back', length(result.gapMm, true)]);
    if (result.closureMm !== null) rows.push(['start repeated to', length(result.closureMm, true)]);
    for (const part of result.uncertaintyParts)
      rows.push([`of it, ${part.name}`, `${part.arcsec.toFixed(1)}″`]);
    return rows;
  }
}
