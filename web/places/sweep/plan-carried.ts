import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import '../../parts/face/plan-picture.ts';

/** What the sweep took over from the plan: the picture, the hand and the limit, so that nothing is carried in the head. */
@customElement('plan-carried')
export class PlanCarried extends PlainElement {
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { plan } = this.screen.state;
    const { answer, question } = plan;
    if (!plan.inUse || answer === null) return nothing;
    return html`<section class="plan-carried" aria-label="From the plan">
      <plan-picture .question=${question} .answer=${answer}></plan-picture>
      <div>
        <h2>From the plan${question.job.trim() === '' ? nothing : html`: ${question.job}`}</h2>
        <p><strong>${answer.angle.dmsText}</strong>${
          answer.stack === null
            ? nothing
            : html`, stack ${answer.stack.sumText} ${answer.stack.unit}`
        }. ${answer.direction.sentence}</p>
        ${answer.written.isTurned ? html`<p>${answer.written.sentence}</p>` : nothing}
        <p>${answer.limitSentence}</p>
        <a class="act" href="#plan">To the plan</a>
      </div>
    </section>`;
  }
}
