import { formatAngle, formatLength, radiansFromArcsec, type SweepSummary } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Screen } from '../state/latest-state.ts';
import { PlainElement } from './plain-element.ts';

/** Earlier sweeps of this job, newest first, with what tightening did between them. */
@customElement('sweep-history')
export class SweepHistory extends PlainElement {
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { sweeps } = this.screen.state.history;
    if (sweeps.length === 0) return nothing;
    return html`<section class="history" aria-label="Sweeps of this job">
      <h2>Sweeps of this job</h2>
      <ol>${[...sweeps].reverse().map((sweep) => this.renderSweep(sweep))}</ol>
      ${this.renderPivot()}
    </section>`;
  }

  private renderSweep({ id, stage, result, simulated, shiftArcsec, zeroMoved }: SweepSummary) {
    const unit = this.screen.state.setup.displayUnit;
    return html`<li>
      <span class="history-id">${id}</span>
      <span class="history-stage">${stage}${simulated ? html` <em class="simulated-word">SIM</em>` : nothing}</span>
      <span class="history-figure">${formatLength(result.endToEndMm, unit, { plus: true })}</span>
      <span class="history-verdict">${result.verdict ?? 'no limit set'}</span>
      ${shiftArcsec === null ? nothing : html`<span class="history-shift">tightening turned it ${formatAngle(radiansFromArcsec(shiftArcsec), { plus: true })}</span>`}
      ${zeroMoved === null ? nothing : html`<span class="history-shift">other zero: ${zeroMoved}</span>`}
    </li>`;
  }

  private renderPivot() {
    const { pivot } = this.screen.state;
    return html`<p class="pivot-sentence">${pivot.sentence}</p>
      ${
        pivot.evidence.length === 0
          ? nothing
          : html`<ul class="evidence">${pivot.evidence.map(
              ({ beforeSweep, afterSweep, used, why }) =>
                html`<li>Sweeps ${beforeSweep} and ${afterSweep}: ${used ? 'used' : 'not used'}. ${why}</li>`,
            )}</ul>`
      }`;
  }
}
