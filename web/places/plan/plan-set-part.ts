import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { PlanPart } from './plan-part.ts';
import { blocksOf } from './view/plan-words.ts';

/** The blocks in the case, and what of them is not to be had today. */
@customElement('plan-set-part')
export class PlanSetPart extends PlanPart {
  override render() {
    const { question } = this.plan;
    const { sets } = this.screen.state.sets;
    const chosen = sets.find(({ set }) => set.id === question.setId) ?? null;
    return html`<section class="plan-question" aria-label="Block set">
      <h2><span class="step-number">6</span> Gauge blocks</h2>
      <div>
        <label for="plan-set">Set in the case</label>
        <select id="plan-set" ?disabled=${this.off} @change=${this.choose}>
          ${question.setId === null ? html`<option value="" selected>none chosen</option>` : nothing}
          ${sets.map(
            ({
              set,
              own,
              pieces,
            }) => html`<option value=${set.id} ?selected=${set.id === question.setId}>
              ${set.title}${own ? ` (your own, ${pieces} ${pieces === 1 ? 'block' : 'blocks'})` : ''}
            </option>`,
          )}
        </select>
        ${this.whyOf('set') ? html`<p class="field-why" role="alert">${this.whyOf('set')}</p>` : nothing}
      </div>
      ${
        chosen?.set.fromMemory
          ? html`<p class="warning">This list is from memory: compare with your case.</p>`
          : nothing
      }
      ${chosen === null ? nothing : html`<p class="field-note">List of blocks from: ${chosen.set.source}</p>`}
      <div class="pair-of-fields">
        ${this.text(
          'Not in the box now',
          question.without.join(' '),
          (text) => void this.pen.change({ without: blocksOf(text) }),
          {
            placeholder: 'all are there',
            note: 'Sizes as engraved, separated by spaces.',
            mayBeEmpty: true,
            most: 400,
            why: this.whyOf('without'),
          },
        )}
        ${this.text(
          'Wear block outside, each end',
          question.wear,
          (text) => void this.pen.change({ wear: text === '' ? null : text }),
          { placeholder: 'none', mayBeEmpty: true, why: this.whyOf('wear') },
        )}
      </div>
    </section>`;
  }

  private readonly choose = (event: Event): void => {
    const id = (event.target as HTMLSelectElement).value;
    if (id !== '') void this.pen.change({ setId: id, without: [] });
  };
}
