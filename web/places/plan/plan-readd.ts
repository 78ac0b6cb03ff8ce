import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { PlanPart } from './plan-part.ts';
import './plan-readd-box.ts';

/** The one step that the sweep cannot see afterwards: someone else adds the blocks that were taken. */
@customElement('plan-readd')
export class PlanReadd extends PlanPart {
  override render() {
    const { answer } = this.plan;
    if (answer === null || answer.stack === null) return nothing;
    const hasTwo = answer.lowRollStack !== null;
    const hasWear = answer.stack.wear.length > 0;
    return html`<section class="plan-question" aria-label="Re-add">
      <h2><span class="step-number">8</span> Someone else keys the blocks actually taken</h2>
      <p class="field-note">Read off the blocks, in any order${hasWear ? ', the wear pair too' : ''}. The sweep cannot see a wrong stack.</p>
      <plan-readd-box
        .pen=${this.pen}
        .screen=${this.screen}
        .where=${hasTwo ? `Under the ${answer.direction.stackEnd} roll` : ''}
      ></plan-readd-box>
      ${
        hasTwo
          ? html`<plan-readd-box
              .pen=${this.pen}
              .screen=${this.screen}
              .under=${'other roll'}
              .where=${'Under the other roll'}
            ></plan-readd-box>`
          : nothing
      }
      ${
        this.plan.built
          ? html`<button
              type="button"
              class="act act-big act-now go-on-here"
              ?disabled=${this.off}
              @click=${() => void this.pen.goOn()}
            >Go on to the sweep</button>`
          : nothing
      }
    </section>`;
  }
}
