import type { JobRow, ProofNames, ProofPage, ProofQuery } from '@taptrue/protocol';
import { html, nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fetchKeptJobs, fetchProofNames } from '../../connection/fetch-proof.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import './ask-twice.ts';
import './proof-filters.ts';
import './proof-row.ts';

/** Sweeps that can be laid over each other. */
const MOST_COMPARED = 20;

/** The kept jobs, newest first, a page at a time; or those in the bin. */
@customElement('proof-list')
export class ProofList extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) bin = false;
  @state() private query: ProofQuery = {};
  @state() private jobs: readonly JobRow[] = [];
  @state() private page: ProofPage | null = null;
  @state() private names: ProofNames = { machines: [], operators: [] };
  @state() private why = '';
  @state() private ticked: readonly string[] = [];
  private seen = '';
  private asked = 0;

  override willUpdate(changed: PropertyValues): void {
    if (changed.has('bin')) void this.look();
    // A job begun or a sweep ended is news for the list.
    const { bench, history } = this.screen.state;
    const now = `${bench.job.number}/${history.sweeps.length}/${this.screen.connection.kind}`;
    if (now !== this.seen && this.seen !== '' && !changed.has('bin')) void this.look();
    this.seen = now;
  }

  override render() {
    return html`
      ${this.renderHead()}
      ${this.bin ? nothing : html`<proof-filters .query=${this.query} .names=${this.names} @asked=${this.onAsked}></proof-filters>`}
      ${this.why ? html`<p class="warning proof-part" role="alert">${this.why}</p>` : nothing}
      ${this.renderJobs()}
      ${this.renderTicked()}
    `;
  }

  private renderHead() {
    const { page, bin } = this;
    if (bin) {
      const count = page?.inBin ?? 0;
      return html`<section class="proof-part proof-head">
        <h2>Bin</h2>
        <div class="acts">
          <a class="act" href="#proof">Back to the list</a>
          ${
            count === 0
              ? nothing
              : html`<ask-twice
                .label=${'Empty the bin'}
                .really=${count === 1 ? 'Delete this job for good' : `Delete these ${count} jobs for good`}
                .disabled=${!this.screen.mayCommand}
                @sure=${() => void this.act({ kind: 'empty bin' })}
              ></ask-twice>`
          }
        </div>
        <p class="field-note">
          Deleted for good, a job leaves its number, dates, counts and a fingerprint; signed jobs stay here.
          ${page && page.emptied > 0 ? html`So far ${page.emptied} ${page.emptied === 1 ? 'was' : 'were'} deleted.` : nothing}
        </p>
      </section>`;
    }
    return html`<section class="proof-part proof-head">
      <h2>Kept jobs</h2>
      <div class="acts">
        <a class="act" href="#proof/vise">What this vise taught</a>
        <a class="act" href="#proof/bin">Bin${page && page.inBin > 0 ? ` (${page.inBin})` : nothing}</a>
      </div>
    </section>`;
  }

  private renderJobs() {
    const { jobs, page } = this;
    if (page === null) return html`<p class="proof-part" role="status">Looking.</p>`;
    if (jobs.length === 0) return html`<p class="proof-part do-now">${this.emptyWords()}</p>`;
    return html`<section class="proof-part" aria-label="Jobs">
      <ol class="proof-jobs">
        ${jobs.map(
          (job) => html`<li>
            <proof-row
              .handle=${this.handle}
              .screen=${this.screen}
              .job=${job}
              .ticked=${this.ticked}
              @tick=${this.onTick}
              @binned=${() => void this.act({ kind: 'bin jobs', jobs: [job.key] })}
              @restored=${() => void this.act({ kind: 'restore jobs', jobs: [job.key] })}
            ></proof-row>
          </li>`,
        )}
      </ol>
      ${
        page.next === null
          ? html`<p class="field-note">${jobs.length === 1 ? 'One job, that is all.' : `${jobs.length} jobs, that is all.`}</p>`
          : html`<button type="button" class="act" @click=${() => void this.look(page.next)}>Older jobs</button>`
      }
    </section>`;
  }

  private emptyWords(): string {
    if (this.bin) return 'The bin is empty.';
    const isAsked = Object.values(this.query).some((value) => value !== '');
    if (isAsked) return 'No kept job is like that. Ask for less.';
    return 'Nothing measured yet. Every sweep is kept here by itself, from the first on.';
  }

  private renderTicked() {
    const { ticked } = this;
    if (ticked.length === 0) return nothing;
    const count =
      ticked.length === 1 ? '1 sweep is ticked.' : `${ticked.length} sweeps are ticked.`;
    return html`<div class="proof-ticked" role="status">
      <p>${count} ${ticked.length < 2 ? 'Tick another to lay them over each other.' : nothing}</p>
      <div class="acts">
        ${ticked.length < 2 ? nothing : html`<a class="act" href="#proof/compare/${ticked.join(',')}">Lay them over each other</a>`}
        <button type="button" class="act" @click=${() => {
          this.ticked = [];
        }}>Untick</button>
      </div>
    </div>`;
  }

  private readonly onTick = (event: CustomEvent<string>): void => {
    const name = event.detail;
    this.ticked = this.ticked.includes(name)
      ? this.ticked.filter((one) => one !== name)
      : [...this.ticked, name].slice(-MOST_COMPARED);
  };

  private readonly onAsked = (event: CustomEvent<ProofQuery>): void => {
    this.query = event.detail;
    void this.look();
  };

  private async act(command: Parameters<BenchHandle['command']>[0]): Promise<void> {
    const answer = await this.handle.command(command);
    if (answer.ok) await this.look();
  }

  /** From the newest on, or the page behind `after`. Only the last question's answer is shown. */
  /** Asks for the list as it is now. */
  async look(after: string | null = null): Promise<void> {
    this.asked += 1;
    const mine = this.asked;
    const query: ProofQuery = this.bin ? { bin: 'yes' } : this.query;
    const [found, names] = await Promise.all([
      fetchKeptJobs(after === null ? query : { ...query, after }),
      after === null ? fetchProofNames() : null,
    ]);
    if (mine !== this.asked) return;
    this.why = found.ok ? '' : found.why;
    if (names?.ok) this.names = names.value;
    if (!found.ok) return;
    this.jobs = after === null ? found.value.jobs : [...this.jobs, ...found.value.jobs];
    this.page = found.value;
  }
}
