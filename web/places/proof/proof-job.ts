import type { JobDetail, Repeats } from '@taptrue/protocol';
import { html, nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fetchKeptJob } from '../../connection/fetch-proof.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { verdictMark } from '../../parts/face/verdict-shapes.ts';
import type { Screen } from '../../state/latest-state.ts';
import { whenText } from './local-time.ts';
import { angleWithin, endToEndText, jobTitle } from './view/proof-words.ts';
import './proof-card.ts';
import './proof-job-acts.ts';
import './proof-notes.ts';
import './proof-repeats.ts';
import './proof-sweep.ts';

/** One kept job, opened: what an inspector asks for first, then the rest. */
@customElement('proof-job')
export class ProofJob extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  /** Key of the job. */
  @property({ attribute: false }) job = '';
  @state() private detail: JobDetail | null = null;
  @state() private why = '';
  private seen = '';

  override willUpdate(changed: PropertyValues): void {
    if (changed.has('job')) this.detail = null;
    const { history, card, bench } = this.screen.state;
    const now = `${this.job}/${bench.job.number}/${history.sweeps.length}/${JSON.stringify(card)}/${this.screen.connection.kind}`;
    if (now === this.seen) return;
    this.seen = now;
    void this.look();
  }

  override render() {
    const { detail } = this;
    if (this.why) return html`<p class="warning proof-part" role="alert">${this.why}</p>`;
    if (detail === null) return html`<p class="proof-part" role="status">Looking.</p>`;
    return html`
      ${this.renderHead(detail)}
      <section class="proof-part">
        <proof-job-acts .handle=${this.handle} .screen=${this.screen} .job=${detail} @written=${() => void this.look()}></proof-job-acts>
      </section>
      <proof-card .handle=${this.handle} .screen=${this.screen} .job=${detail}></proof-card>
      ${this.renderSweeps(detail)}
      ${detail.repeats.map((repeats: Repeats) => html`<proof-repeats .handle=${this.handle} .screen=${this.screen} .repeats=${repeats}></proof-repeats>`)}
      <proof-notes .handle=${this.handle} .screen=${this.screen} .job=${detail} @written=${() => void this.look()}></proof-notes>
    `;
  }

  /** Read at two metres: the job's number, the last sweep's word and how far it is out. */
  private renderHead(detail: JobDetail) {
    const lined = detail.all.find(({ result }) => result !== null);
    const unit = this.screen.state.setup.displayUnit;
    return html`<section class="proof-job-head">
      <h2 class="proof-job-number">${jobTitle(detail)}</h2>
      <p class="proof-job-verdict">
        ${verdictMark(detail.verdict, detail.sweeps === 0 ? 'not measured' : lined ? 'no limit set' : 'no line')}
        ${lined ? html`<span>at ${lined.stage}</span>` : nothing}
        ${detail.simulated ? html`<em class="simulated-word">SIMULATED</em>` : nothing}
        ${detail.running ? html`<em class="proof-flag">going on now</em>` : nothing}
        ${detail.signatures > 0 ? html`<em class="proof-flag">signed</em>` : nothing}
        ${detail.binnedAt === null ? nothing : html`<em class="proof-flag">in the bin</em>`}
      </p>
      ${
        lined
          ? html`<p class="proof-job-figure">${angleWithin(lined.outOfTrueArcsec, lined.expandedArcsec)}</p>
            <p>${endToEndText(lined, unit)}, sweep ${lined.number}, ${whenText(lined.endedAt)}. ${lined.expandedArcsec === null ? 'Its uncertainty is not known.' : '± is the expanded uncertainty, 95 %, of the sweep alone.'}</p>`
          : nothing
      }
      <p class="proof-job-when">Begun ${whenText(detail.startedAt)} at ${detail.bench}${detail.origin === 'measured here' ? nothing : `, from ${detail.origin}`}.</p>
    </section>`;
  }

  private renderSweeps(detail: JobDetail) {
    return html`<section class="proof-part" aria-label="Sweeps">
      <h2>Sweeps</h2>
      ${detail.all.length === 0 ? html`<p>Nothing was swept in this job.</p>` : nothing}
      <ol class="proof-sweep-list">
        ${detail.all.map(
          (sweep) =>
            html`<li><proof-sweep .screen=${this.screen} .job=${detail} .sweep=${sweep}></proof-sweep></li>`,
        )}
      </ol>
      ${detail.leftOut > 0 ? html`<p class="field-note">${detail.leftOut} earlier sweeps are kept and not listed here.</p>` : nothing}
    </section>`;
  }

  private async look(): Promise<void> {
    const { job } = this;
    const found = await fetchKeptJob(job);
    if (job !== this.job) return;
    this.why = found.ok ? '' : found.why;
    if (found.ok) this.detail = found.value;
  }
}
