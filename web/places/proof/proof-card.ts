import type { JobCard, JobDetail } from '@taptrue/protocol';
import { html } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import '../../parts/face/plan-text.ts';

const FIELDS: readonly [keyof JobCard, string, string][] = [
  ['jobNumber', 'Job number of the shop', 'as on the traveller'],
  ['part', 'Part or drawing', ''],
  ['machine', 'Machine and vise', 'such as: mill 2, old vise'],
  ['operator', 'Operator', 'who sets it'],
  ['indicator', 'Indicator', 'its number in the shop'],
  ['indicatorChecked', 'Indicator last checked', 'when, and against what'],
  ['readdedBy', 'Blocks added up again by', ''],
];

/** What stands at the head of the job: written while it goes on, read afterwards. */
@customElement('proof-card')
export class ProofCard extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) job!: JobDetail;

  override render() {
    const { job } = this;
    if (!job.running) {
      return html`<section class="proof-part" aria-label="Card">
        <h2>Card</h2>
        <dl class="sheet">
          ${FIELDS.map(([field, label]) => html`<div><dt>${label}</dt><dd>${job.card[field] || 'not given'}</dd></div>`)}
        </dl>
      </section>`;
    }
    // As the bench has it now: the kept one follows within a moment.
    const { card } = this.screen.state;
    return html`<section class="proof-part" aria-label="Card">
      <h2>Card</h2>
      <div class="setup-grid">
        ${FIELDS.map(
          ([field, label, placeholder]) => html`<plan-text
            .label=${label}
            .value=${card[field]}
            .placeholder=${placeholder}
            .mayBeEmpty=${true}
            .most=${120}
            .disabled=${!this.screen.mayCommand}
            @typed=${(event: CustomEvent<string>) => void this.handle.command({ kind: 'change card', change: { [field]: event.detail } })}
          ></plan-text>`,
        )}
      </div>
    </section>`;
  }
}
