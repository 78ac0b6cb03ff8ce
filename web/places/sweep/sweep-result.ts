import {
  formatAngle,
  formatLength,
  formatSlope,
  radiansFromArcsec,
  type SweepResult,
} from '@taptrue/protocol';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { endToEndWords } from '../../view/words.ts';
import { uncertaintyPart } from './uncertainty-part.ts';

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
      <dl class="sheet">${this.rows(result).map(([name, figure]) => html`<div><dt>${name}</dt><dd>${figure}</dd></div>`)}</dl>
      ${uncertaintyPart(result, this.screen.state.setup)}
    </section>`;
  }

  private rows(result: SweepResult): [string, string | TemplateResult][] {
    const { setup } = this.screen.state;
    const unit = setup.displayUnit;
    const fine = unit === 'in' ? 5 : 4;
    const length = (mm: number, plus = false) => formatLength(mm, unit, { plus });
    const angle = (arcsec: number) => formatAngle(radiansFromArcsec(arcsec));
    const within = (text: string | null) => (text === null ? ', ± not known' : ` ± ${text}`);
    const rows: [string, string | TemplateResult][] = [
      [
        'out of true, ± for 95 %',
        `${angle(Math.abs(result.outOfTrueArcsec))}${within(result.outOfTrueArcsecExpanded === null ? null : angle(result.outOfTrueArcsecExpanded))}`,
      ],
      ['the same as slope', formatSlope(Math.abs(result.slope), unit)],
      [
        `end to end over ${formatLength(result.lengthMm, unit, { decimals: unit === 'in' ? 2 : 1 })}`,
        endToEndWords(result, setup),
      ],
      [
        '± of it, 95 %',
        result.endToEndExpandedMm === null
          ? 'not known'
          : formatLength(result.endToEndExpandedMm, unit, { decimals: fine }),
      ],
      [
        'limit',
        result.limitArcsec === null
          ? 'none set'
          : `${angle(result.limitArcsec)}, ${result.decisionRule === 'guarded' ? 'the uncertainty kept inside it' : 'the figure as it is'}`,
      ],
      [
        'straightness, narrowest band',
        formatLength(result.straightnessMinimumZoneMm, unit, { decimals: fine }),
      ],
      [
        'straightness, about the line',
        formatLength(result.straightnessLeastSquaresMm, unit, { decimals: fine }),
      ],
      ['points', String(result.points)],
    ];
    if (setup.targetSlope !== 0) rows.push(['slope wanted', formatSlope(setup.targetSlope, unit)]);
    if (result.tapToReadingMm !== null) {
      const where =
        result.tapToAtMm === null
          ? 'at any station'
          : `at ${formatLength(result.tapToAtMm, unit, { decimals: 3 })}`;
      rows.push([
        'stop at',
        html`<strong>${length(result.tapToReadingMm, true)}</strong> ${where}`,
      ]);
    }
    for (const pass of result.passes.length > 1 ? result.passes : []) {
      rows.push([`pass ${pass.pass}`, `${formatSlope(pass.slope, unit)}, ${pass.points} points`]);
    }
    if (result.gapMm !== null) {
      rows.push([
        'gap between out and back',
        formatLength(Math.abs(result.gapMm), unit, { decimals: fine }),
      ]);
    }
    if (result.closureMm !== null) {
      rows.push([
        'start repeated to',
        formatLength(Math.abs(result.closureMm), unit, { decimals: fine }),
      ]);
    }
    return rows;
  }
}
