import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { PlanPart } from './plan-part.ts';
import { planNumber, planStanding } from './view/plan-words.ts';
import '../../parts/face/plan-picture.ts';

/** The picture, one number, one sentence, and the way on to the sweep. */
@customElement('plan-face')
export class PlanFace extends PlanPart {
  override render() {
    const { plan } = this;
    const { answer, question, inUse } = plan;
    const { word, why, standing } = planStanding(plan);
    const number = planNumber(plan, this.setUnit);
    return html`
      <plan-picture .question=${question} .answer=${answer}></plan-picture>
      <div class="plan-say">
        <p class="plan-standing" role="status" aria-live="polite"><span class="big-word" data-standing=${standing}>${word}</span></p>
        ${
          number === null
            ? nothing
            : html`<div class="plan-number">
                <p class="answer-label">${number.label}</p>
                <p class="plan-figure"><span class="number">${number.text}</span> <span class="unit">${number.unit}</span></p>
              </div>`
        }
        <p class="plan-sentence">${answer?.direction.sentence ?? ''}</p>
        <div class="acts">
          <button
            type="button"
            class="act act-big ${plan.built && !inUse ? 'act-now' : ''}"
            ?disabled=${this.off || !plan.built}
            aria-describedby="plan-why"
            @click=${() => void this.pen.goOn()}
          >Go on to the sweep</button>
          ${
            answer === null
              ? html`<button type="button" class="act" disabled>Setup sheet</button>`
              : html`<a class="act" href="/api/sheet?paper=a4" target="_blank" rel="noopener">Setup sheet, A4</a>
                  <a class="act" href="/api/sheet?paper=letter" target="_blank" rel="noopener">Letter</a>`
          }
        </div>
        <p id="plan-why" class=${why || this.off ? 'said' : 'field-note'}>${
          this.off
            ? this.screen.whyNot
            : why ||
              (
                inUse
                  ? 'The sweep’s limit, axis and target come from this plan.'
                  : 'Limit, axis and target go with it.'
              )
        }</p>
      </div>
      ${
        answer === null || answer.cautions.length === 0
          ? nothing
          : html`<ul class="cautions" aria-label="Mind">${answer.cautions.map(({ text }) => html`<li>${text}</li>`)}</ul>`
      }
    `;
  }
}
