import { checkerOf, JobFile, type JobSummary } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { PlanPart } from './plan-part.ts';
import { handWord, jobFileName } from './view/plan-words.ts';

const jobFile = checkerOf(JobFile);

/** A job is a few kilobytes; whatever is larger is another file. */
const LARGEST_JOB_BYTES = 200_000;

/** Jobs kept on the bench: open, copy for the other hand, take out as a file, bring in. */
@customElement('plan-jobs')
export class PlanJobs extends PlanPart {
  /** The button that was pressed once and waits for a second press, because something is lost by it. */
  @state() private asked = '';
  @state() private fileWhy = '';
  @query('input[type=file]') private chooser!: HTMLInputElement | null;

  override render() {
    const { jobs } = this.screen.state.jobs;
    const { question } = this.plan;
    return html`<section class="plan-question" aria-label="Jobs">
      <h2>Jobs</h2>
      <div class="pair-of-fields">
        ${this.text('Name of this job', question.job, (job) => void this.pen.change({ job }), {
          placeholder: 'such as: bracket, op 20',
          mayBeEmpty: true,
          most: 120,
        })}
        <div class="acts">
          <button type="button" class="act" ?disabled=${this.off} @click=${() => void this.pen.command({ kind: 'keep job' })}>${this.keepWord}</button>
          ${this.twice('new', 'New plan', this.isLosable, () => this.pen.command({ kind: 'new plan' }))}
          <a class="act" href="/api/jobs/current" download=${jobFileName(question.job)}>Export this plan</a>
          ${this.twice('import', 'Import from a file', this.isLosable, () => this.chooser?.click())}
          <input type="file" accept=".json,application/json" hidden @change=${this.takeFile} />
        </div>
      </div>
      ${this.fileWhy ? html`<p class="field-why" role="alert">${this.fileWhy}</p>` : nothing}
      ${
        jobs.length === 0
          ? html`<p class="field-note">No job is kept yet.</p>`
          : html`<ul class="jobs">${jobs.map((job) => this.renderJob(job))}</ul>`
      }
    </section>`;
  }

  private get keepWord(): string {
    const { jobId, changed } = this.plan;
    if (jobId === null) return 'Keep this job';
    return changed ? 'Keep the changes' : 'Kept';
  }

  /** What stands in the plan is nowhere else. */
  private get isLosable(): boolean {
    const { jobId, changed, question } = this.plan;
    return jobId === null ? question.angle.text !== '' : changed;
  }

  private renderJob(job: JobSummary) {
    const { id } = job;
    const losable = this.isLosable;
    return html`<li aria-current=${id === this.plan.jobId ? 'true' : nothing}>
      <p>
        <strong>${job.title || 'without a name'}</strong> ${job.angleText}, ${handWord(job.hand)}
        <small>${whenWord(job.changedAt)}${id === this.plan.jobId ? ', open here' : ''}</small>
      </p>
      <div class="acts">
        ${this.twice(`open ${id}`, 'Open', losable, () => this.pen.command({ kind: 'open job', id }))}
        ${this.twice(`copy ${id}`, 'Duplicate', losable, () => this.pen.command({ kind: 'duplicate job', id, otherHand: false }))}
        ${this.twice(`other ${id}`, 'For the other hand', losable, () => this.pen.command({ kind: 'duplicate job', id, otherHand: true }))}
        <a class="act" href="/api/jobs/${id}" download=${jobFileName(job.title)}>Export</a>
        ${this.twice(`remove ${id}`, 'Remove', true, () => this.pen.command({ kind: 'remove job', id }), 'Really remove it')}
      </div>
    </li>`;
  }

  /** A button that loses something asks once more in its own words. */
  private twice(
    key: string,
    label: string,
    loses: boolean,
    act: () => unknown,
    really = 'Drop the plan on screen',
  ) {
    const isAsked = loses && this.asked === key;
    return html`<button
      type="button"
      class="act ${isAsked ? 'act-sure' : ''}"
      ?disabled=${this.off}
      @click=${() => {
        this.asked = loses && !isAsked ? key : '';
        if (!loses || isAsked) act();
      }}
      @blur=${() => {
        if (this.asked === key) this.asked = '';
      }}
    >${isAsked ? really : label}</button>`;
  }

  private readonly takeFile = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    input.value = '';
    if (file === undefined) return;
    if (file.size > LARGEST_JOB_BYTES) {
      this.fileWhy = `${file.name} is ${Math.round(file.size / 1000)} kB, too large for a job. Choose a file that was exported here.`;
      return;
    }
    const checked = jobFile.parse(await file.text());
    this.fileWhy = checked.ok
      ? ''
      : `${file.name} is not a job: ${checked.why}. Choose a file that was exported here.`;
    if (checked.ok) void this.pen.command({ kind: 'import job', file: checked.value });
  };
}

function whenWord(iso: string): string {
  const at = new Date(iso);
  if (Number.isNaN(at.getTime())) return iso;
  return at.toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
}
