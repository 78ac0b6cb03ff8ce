import { type Drift, formatAngle, type Learned, radiansFromArcsec } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fetchDrift, fetchLearned, fetchProofNames } from '../../connection/fetch-proof.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { whenText } from './local-time.ts';
import { angleWithin } from './view/proof-words.ts';

const BOX = { widthPx: 900, heightPx: 300, padPx: 30 };
/** Full height of the plot at least, seconds of arc: a vise that lies true looks level. */
const LEAST_ARCSEC = 20;

/** What the kept jobs say of the vise: how the final sweeps lay by date, where it turns, how tightening turns it. */
@customElement('proof-vise')
export class ProofVise extends PlainElement {
  @property({ attribute: false }) screen!: Screen;
  @state() private machine: string | null = null;
  @state() private machines: readonly string[] = [];
  @state() private drift: Drift | null = null;
  @state() private learned: Learned | null = null;
  @state() private why = '';

  override connectedCallback(): void {
    super.connectedCallback();
    void this.look();
  }

  override render() {
    const { drift, learned } = this;
    return html`
      ${this.why ? html`<p class="warning proof-part" role="alert">${this.why}</p>` : nothing}
      <section class="proof-part" aria-label="Drift">
        <h2>Final sweeps by date</h2>
        <div class="proof-choose">
          <label for="drift-machine">Machine and vise</label>
          <select id="drift-machine" @change=${(event: Event) => void this.look((event.target as HTMLSelectElement).value)}>
            ${this.choices().map((name) => html`<option value=${name} ?selected=${name === (drift?.machine ?? '')}>${name || 'none named on the card'}</option>`)}
          </select>
        </div>
        ${drift === null ? nothing : html`<p>${drift.words}</p>${this.renderPlot(drift)}`}
      </section>
      ${learned === null ? nothing : this.renderLearned(learned)}
    `;
  }

  private choices(): string[] {
    const here = this.screen.state.card.machine;
    return [...new Set([here, '', ...this.machines])];
  }

  private renderPlot({ points }: Drift) {
    if (points.length < 2) return nothing;
    const times = points.map(({ endedAt }) => Date.parse(endedAt));
    const [from, to] = [Math.min(...times), Math.max(...times)];
    const reach = points.map(
      ({ arcsec, expandedArcsec }) => Math.abs(arcsec) + (expandedArcsec ?? 0),
    );
    const half = Math.max(LEAST_ARCSEC / 2, ...reach) * 1.1;
    const { widthPx, heightPx, padPx } = BOX;
    const xPx = (ms: number) => padPx + ((ms - from) / (to - from || 1)) * (widthPx - 2 * padPx);
    const yPx = (arcsec: number) => heightPx / 2 - (arcsec / half) * (heightPx / 2);
    const full = formatAngle(radiansFromArcsec(half));
    return html`<figure class="proof-compared">
      <svg viewBox="0 0 ${widthPx} ${heightPx}" role="img" aria-label="Final sweeps by date, counter-clockwise up">
        <line class="small-axis" x1="0" x2=${widthPx} y1=${heightPx / 2} y2=${heightPx / 2}></line>
        ${points.map(({ arcsec, expandedArcsec }, index) => {
          const x = xPx(times[index]!).toFixed(1);
          const within = expandedArcsec ?? 0;
          return svg`<line class="proof-within" x1=${x} x2=${x} y1=${yPx(arcsec + within)} y2=${yPx(arcsec - within)}></line>
            <circle class="proof-point" cx=${x} cy=${yPx(arcsec).toFixed(1)} r="5"></circle>`;
        })}
      </svg>
      <figcaption>${whenText(points[0]!.endedAt)} to ${whenText(points.at(-1)!.endedAt)}; true in the middle, counter-clockwise up, ${full} either way; bars are ± 95 %.</figcaption>
    </figure>
    <details><summary>The figures</summary>
      <ol class="proof-taps">${points
        .toReversed()
        .map(
          (point) =>
            html`<li><a href="#proof/job/${point.job}">Job ${point.jobNumber}</a>, ${whenText(point.endedAt)}: ${angleWithin(point.arcsec, point.expandedArcsec)}${point.arcsec === 0 ? nothing : point.arcsec > 0 ? ' counter-clockwise' : ' clockwise'}</li>`,
        )}</ol>
    </details>`;
  }

  private renderLearned({ machine, pivots, shifts, whyNoAim, aim, fairNumber }: Learned) {
    const name = machine === '' ? 'no vise named on the card of this job' : machine;
    return html`
      <section class="proof-part" aria-label="Tightening">
        <h2>How tightening turns it <small>${name}</small></h2>
        ${shifts.length === 0 ? html`<p>Not known yet. Sweep before and after tightening, without a tap between.</p>` : html`<ul>${shifts.map(({ words }) => html`<li>${words}</li>`)}</ul>`}
        <p class="field-note">± is the standard deviation from job to job. ${aim === null ? `${whyNoAim} Aiming off is offered at the Tap place, from ${fairNumber} jobs on.` : 'Aiming off by it is offered at the Tap place.'}</p>
      </section>
      <section class="proof-part" aria-label="Pivot">
        <h2>Where it turns <small>${name}</small></h2>
        ${pivots.length === 0 ? html`<p>Not known yet. It is told by sweeps before and after a tap on one zero.</p>` : html`<ul>${pivots.map(({ words }) => html`<li>${words}</li>`)}</ul>`}
      </section>`;
  }

  private async look(machine = this.screen.state.card.machine): Promise<void> {
    this.machine = machine;
    const [drift, learned, names] = await Promise.all([
      fetchDrift(machine),
      fetchLearned(),
      fetchProofNames(),
    ]);
    if (machine !== this.machine) return;
    const failed = [drift, learned, names].find(({ ok }) => !ok);
    this.why = failed && !failed.ok ? failed.why : '';
    if (drift.ok) this.drift = drift.value;
    if (learned.ok) this.learned = learned.value;
    if (names.ok) this.machines = names.value.machines;
  }
}
