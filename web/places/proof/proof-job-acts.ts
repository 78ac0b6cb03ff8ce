import type { JobRow } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import './record-give.ts';
import './record-sign.ts';

/** What can be done with a kept job as a whole. */
@customElement('proof-job-acts')
export class ProofJobActs extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) job!: JobRow;

  override render() {
    return html`<div class="acts">
      <a class="act" href="/?replay=${this.job.key}">Replay</a>
    </div>
    <record-give .job=${this.job}></record-give>
    ${this.job.running ? html`<record-sign .handle=${this.handle} .screen=${this.screen}></record-sign>` : nothing}`;
  }
}
