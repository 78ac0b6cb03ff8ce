import type { JobRow, SweepRow } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { verdictMark } from '../../parts/face/verdict-shapes.ts';
import type { Screen } from '../../state/latest-state.ts';
import { whenText } from './local-time.ts';
import { smallLine } from './small-line.ts';
import { angleWithin, cardLine, endToEndText, jobTitle } from './view/proof-words.ts';
import './ask-twice.ts';

/** One kept job of the list. Fires `tick` with KEY:NUMBER, `binned` and `restored`. */
@customElement('proof-row')
export class ProofRow extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) job!: JobRow;
  @property({ attribute: false }) ticked: readonly string[] = [];
  @state() private isOpen = false;

  override render() {
    const { job } = this;
    const lined = job.last.find(({ outOfTrueArcsec }) => outOfTrueArcsec !== null);
    return html`
      <article class="proof-row">
        <p class="proof-ended">
          ${verdictMark(job.verdict, job.sweeps === 0 ? 'not measured' : lined ? 'no limit set' : 'no line')}
          ${lined ? html`<span>at ${lined.stage}</span>` : nothing}
        </p>
        <p class="proof-figure">
          ${lined ? html`<strong>${angleWithin(lined.outOfTrueArcsec, lined.expandedArcsec)}</strong> <span>${endToEndText(lined, this.screen.state.setup.displayUnit)}</span>` : nothing}
        </p>
        ${lined ? smallLine(lined) : html`<span class="small-line"></span>`}
        <p class="proof-name">
          <a href="#proof/job/${job.key}"><strong>${jobTitle(job)}</strong></a>
          ${job.running ? html`<em class="proof-flag">going on now</em>` : nothing}
          ${job.simulated ? html`<em class="simulated-word">SIMULATED</em>` : nothing}
          ${job.signatures > 0 ? html`<em class="proof-flag">signed</em>` : nothing}
          ${job.origin === 'measured here' ? nothing : html`<em class="proof-flag">from ${job.origin}</em>`}
        </p>
        <p class="proof-card">
          <span>${whenText(job.startedAt)}</span> <span>${cardLine(job)}</span>
          ${job.notes > 0 ? html`<span>${job.notes === 1 ? '1 note' : `${job.notes} notes`}</span>` : nothing}
          ${job.tags.map((tag) => html`<span class="proof-tag">${tag}</span>`)}
        </p>
        <div class="acts proof-acts">${this.renderActs()}</div>
      </article>
      ${this.isOpen ? html`<ul class="proof-sweeps">${job.last.map((sweep) => this.renderSweep(sweep))}${this.renderRest()}</ul>` : nothing}
    `;
  }

  private renderActs() {
    const { job } = this;
    const off = !this.screen.mayCommand;
    const name = jobTitle(job);
    if (job.binnedAt !== null)
      return html`<button type="button" class="act" ?disabled=${off} @click=${() => this.fire('restored')}>Take it out of the bin</button>`;
    const sweeps = job.sweeps === 1 ? '1 sweep' : `${job.sweeps} sweeps`;
    return html`
      ${
        job.sweeps === 0
          ? nothing
          : html`<button type="button" class="act" aria-expanded=${this.isOpen} aria-label="${sweeps} of ${name}" @click=${() => {
              this.isOpen = !this.isOpen;
            }}>${sweeps}</button>`
      }
      <a class="act" href="#proof/job/${job.key}" aria-label="Open ${name}">Open</a>
      ${job.running ? nothing : html`<ask-twice .label=${'To the bin'} .really=${'Really to the bin'} .disabled=${off} @sure=${() => this.fire('binned')}></ask-twice>`}
    `;
  }

  private renderSweep(sweep: SweepRow) {
    const name = `${this.job.key}:${sweep.number}`;
    const isLine = sweep.outOfTrueArcsec !== null;
    return html`<li>
      <label class="proof-tick">
        <input
          type="checkbox"
          .checked=${this.ticked.includes(name)}
          ?disabled=${!isLine}
          @change=${() => this.dispatchEvent(new CustomEvent('tick', { detail: name }))}
        />
        <span>sweep ${sweep.number}, ${sweep.stage}</span>
      </label>
      ${smallLine(sweep)}
      ${verdictMark(sweep.verdict, isLine ? 'no limit set' : 'no line')}
      <span>${isLine ? angleWithin(sweep.outOfTrueArcsec, sweep.expandedArcsec) : nothing}</span>
      <span class="proof-sentence">${sweep.sentence}</span>
    </li>`;
  }

  private renderRest() {
    const rest = this.job.sweeps - this.job.last.length;
    if (rest <= 0) return nothing;
    return html`<li><a class="act" href="#proof/job/${this.job.key}">${rest} earlier sweeps</a></li>`;
  }

  private fire(name: 'binned' | 'restored'): void {
    this.dispatchEvent(new CustomEvent(name));
  }
}
