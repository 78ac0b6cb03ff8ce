import type { JobDetail, JobRow } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';

/** A kept job on its way out: paper, recording, the points of one sweep. Every screen may. */
@customElement('record-give')
export class RecordGive extends PlainElement {
  @property({ attribute: false }) job!: JobRow | JobDetail;
  @state() private sweep = '';

  override render() {
    const { key, sweeps } = this.job;
    const at = `/api/records/${key}`;
    const hasLine = this.job.last.some(({ outOfTrueArcsec }) => outOfTrueArcsec !== null);
    return html`
      <div class="acts">
        ${
          hasLine
            ? html`<a class="act" href="${at}/sheet?paper=a4" target="_blank" rel="noopener">Record for paper, A4</a>
              <a class="act" href="${at}/sheet?paper=letter" target="_blank" rel="noopener">Letter</a>`
            : nothing
        }
        <a class="act" href="${at}/recording" download>Save the recording</a>
      </div>
      ${sweeps === 0 ? nothing : this.renderOne(at)}
    `;
  }

  private renderOne(at: string) {
    const numbers = this.numbers;
    const chosen = this.sweep || String(numbers[0] ?? '');
    return html`<div class="amount">
      <div>
        <label for="give-sweep">One sweep alone</label>
        <select id="give-sweep" @change=${(event: Event) => {
          this.sweep = (event.target as HTMLSelectElement).value;
        }}>
          ${numbers.map((number) => html`<option value=${number} ?selected=${String(number) === chosen}>sweep ${number}</option>`)}
        </select>
      </div>
      <a class="act" href="${at}/points?sweep=${chosen}" download>Its points as a table</a>
      <a class="act" href="${at}/recording?sweep=${chosen}" download>The recording up to it</a>
    </div>`;
  }

  /** Newest first. */
  private get numbers(): number[] {
    const rows = 'all' in this.job ? this.job.all : this.job.last;
    return rows.map(({ number }) => number);
  }
}
