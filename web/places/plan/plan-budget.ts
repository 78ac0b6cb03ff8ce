import { type Budget, formatAngle, radiansFromArcsec } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement } from 'lit/decorators.js';
import { PlanPart } from './plan-part.ts';
import './plan-assumptions.ts';

const angle = (arcsec: number) => formatAngle(radiansFromArcsec(arcsec));

/** How good the jaw's angle can be: every part of it, and all of them against the print. */
@customElement('plan-budget')
export class PlanBudget extends PlanPart {
  override render() {
    const { answer } = this.plan;
    if (answer === null || answer.budget === null) return nothing;
    const { budget } = answer;
    const most = Math.max(...budget.lines.map(({ arcsec }) => arcsec), 1e-9);
    return html`<section class="plan-question" aria-label="How good it can be">
      <h2><span class="step-number">9</span> How good can it be</h2>
      <p class="said">${budget.sentence}</p>
      ${this.renderAgainst(budget)}
      <table class="budget">
        <caption>Parts of the uncertainty, each as seconds of arc at the jaw (1 s)</caption>
        <thead><tr><th scope="col">part</th><th scope="col">size</th><th scope="col">″</th></tr></thead>
        <tbody>
          ${budget.lines.map(
            (line) => html`<tr>
              <th scope="row">${line.name}<small>${line.valueText}${line.assumed ? ', assumed' : ''}; ${line.source}</small></th>
              <td>${drawBar(line.arcsec / most)}</td>
              <td class="figure">${line.arcsec.toFixed(2)}</td>
            </tr>`,
          )}
        </tbody>
        <tfoot>
          <tr><th scope="row">combined</th><td></td><td class="figure">${budget.combinedArcsec.toFixed(2)}</td></tr>
          <tr><th scope="row">expanded, 95 %<small>times ${budget.coverageFactor.toFixed(2)}</small></th><td></td><td class="figure">${budget.expandedArcsec.toFixed(1)}</td></tr>
        </tfoot>
      </table>
      <p class="field-note">
        The sweep sees the bar, the indicator and the clamping. It does not see the stack, the bar’s own errors or
        what lies between bar and jaw: they stay in the part however true the sweep.
      </p>
      <plan-assumptions .pen=${this.pen} .screen=${this.screen}></plan-assumptions>
    </section>`;
  }

  private renderAgainst(budget: Budget) {
    const { toleranceArcsec, shareOfTolerance, expandedArcsec, offsetArcsec } = budget;
    if (toleranceArcsec === null || shareOfTolerance === null) return nothing;
    return html`<dl class="echo">
        <div><dt>stack off already</dt><dd>${angle(Math.abs(offsetArcsec))}</dd></div>
        <div><dt>expanded, 95 %</dt><dd>± ${angle(expandedArcsec)}</dd></div>
        <div><dt>tolerance of the print</dt><dd>± ${angle(toleranceArcsec)}</dd></div>
      </dl>
      ${drawBar(shareOfTolerance, true)}
      ${shareOfTolerance > 1 ? html`<p class="warning">More than the print allows: it cannot be held this way.</p>` : nothing}`;
  }
}

const BAR_WIDTH = 200;

/** A bar as long as its share of the whole; past the whole it runs into the stop. */
function drawBar(share: number, isWide = false) {
  const width = Math.max(1, Math.min(1, share) * BAR_WIDTH);
  return html`<svg
    class=${isWide ? 'budget-bar budget-whole' : 'budget-bar'}
    viewBox="0 0 ${BAR_WIDTH} 16"
    preserveAspectRatio="none"
    aria-hidden="true"
  >${svg`<path class="budget-ground" d="M0 0H${BAR_WIDTH}V16H0Z"></path><path class="budget-part" d="M0 2H${width.toFixed(1)}V14H0Z"></path>`}</svg>`;
}
