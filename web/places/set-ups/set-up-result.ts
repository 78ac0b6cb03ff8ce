import { formatLength, type SetUpBrief, type SetUpJudged } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { actButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { verdictMark } from '../../parts/face/verdict-shapes.ts';
import type { Screen } from '../../state/latest-state.ts';
import { PLOT_HEIGHT, PLOT_WIDTH, readingPlot } from './view/reading-plot.ts';

/** What the readings of a set-up say: verdict, what to move, the readings drawn, cautions. */
@customElement('set-up-result')
export class SetUpResult extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) row!: SetUpBrief;

  override render() {
    const { chosen } = this.screen.state.setUps;
    if (chosen === null) return nothing;
    const { judged, whyNot } = chosen;
    return html`<div class="set-up-answer">
      <div class="set-up-said" role="status">
        ${
          judged === null
            ? html`<p><strong>${whyNot?.what}</strong> ${whyNot?.got ? html`${whyNot.got}.` : nothing} ${whyNot?.remedy}</p>`
            : this.renderJudged(judged, chosen.kept)
        }
      </div>
      ${this.renderPlot()}
    </div>
    ${judged === null ? nothing : html`<ul class="cautions" aria-label="Mind">${judged.cautions.map(({ text }) => html`<li>${text}</li>`)}</ul>`}`;
  }

  private renderJudged(judged: SetUpJudged, isKept: boolean) {
    const { screen, handle } = this;
    return html`
      ${verdictMark(judged.verdict, 'not judged')}
      ${judged.correction === '' ? nothing : html`<p class="set-up-do">${judged.correction}</p>`}
      <p>${judged.sentence}</p>
      <dl class="set-up-figures">
        ${judged.figures.map(({ name, value }) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}
      </dl>
      <div class="set-up-acts">
        ${actButton(screen, handle, isKept ? 'Kept in the record' : 'Keep in the record', { kind: 'keep set-up' }, { look: 'now', disabled: isKept })}
        ${judged.aim === null ? nothing : this.renderAim()}
      </div>`;
  }

  /** The next bar in the vise is aimed off by what the part is off. */
  private renderAim() {
    const { screen, handle } = this;
    return html`
      ${actButton(screen, handle, 'Aim the next vise so, stack left', { kind: 'aim by part', stack: 'left' })}
      ${actButton(screen, handle, 'Aim the next vise so, stack right', { kind: 'aim by part', stack: 'right' })}`;
  }

  private renderPlot() {
    const { setUps, setup } = this.screen.state;
    const { chosen } = setUps;
    const plot = chosen && readingPlot(this.row.fit, chosen.points, chosen.judged);
    if (!plot) return nothing;
    const ends = this.row.fit === 'circle' ? ['0°', '360°'] : ['minus end', 'plus end'];
    return html`<figure class="set-up-plot">
      <svg viewBox="0 0 ${PLOT_WIDTH} ${PLOT_HEIGHT}" role="img" aria-label="The readings and the fit through them">
        ${plot.curve === '' ? nothing : svg`<polyline points=${plot.curve}></polyline>`}
        ${plot.dots.map(({ x, y, turned }) => svg`<circle class=${turned ? 'turned' : ''} cx=${x} cy=${y} r="5"></circle>`)}
      </svg>
      <figcaption><span>${ends[0]}</span><span>height ${formatLength(plot.highMm, setup.displayUnit)}</span><span>${ends[1]}</span></figcaption>
    </figure>`;
  }
}
