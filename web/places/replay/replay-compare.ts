import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import type { ReplayHandle } from './replay-handle.ts';
import { figureRows } from './view/replay-words.ts';
import './replay-what-if.ts';

/** What the last sweep was recorded to say beside what it says now, and another setup to try. */
@customElement('replay-compare')
export class ReplayCompare extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle & ReplayHandle;
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { replay } = this.screen.state;
    if (replay === null) return nothing;
    return html`<section class="replay-compare" aria-label="Recorded and now">
      ${this.renderCompared()}
      ${this.renderPaper()}
      <replay-what-if .handle=${this.handle} .screen=${this.screen}></replay-what-if>
    </section>`;
  }

  private renderPaper() {
    const { job } = this.screen.state.replay!;
    const at = `/api/records/${encodeURIComponent(job)}/sheet?replay=1`;
    return html`<div class="acts">
      <a class="act" href="${at}&paper=a4" target="_blank" rel="noopener">Record for paper, A4</a>
      <a class="act" href="${at}&paper=letter" target="_blank" rel="noopener">Letter</a>
      <span class="field-note">As it was recorded, with REPLAY across it.</span>
    </div>`;
  }

  private renderCompared() {
    const { compared, why, different, recordedVersion, version, whatIf } =
      this.screen.state.replay!;
    if (compared === null)
      return html`<p>No sweep has ended yet at this place of the recording.</p>`;
    const { sweep, isSame, recorded, recomputed } = compared;
    if (isSame) {
      return html`<p>
        <strong>Sweep ${sweep} comes out as recorded, to the last digit.</strong>
        ${different > 0 ? html`Of what came before, ${different} ${different === 1 ? 'thing differs' : 'things differ'}: ${lower(why)}` : nothing}
      </p>`;
    }
    const { displayUnit } = this.screen.state.setup;
    const rows = figureRows(recorded, recomputed, displayUnit);
    return html`<p><strong>Sweep ${sweep} differs from what was recorded.</strong> ${why}</p>
      <table class="replay-figures">
        <thead>
          <tr>
            <td></td>
            <th scope="col">recorded, version ${recordedVersion}</th>
            <th scope="col">now, version ${version}${whatIf.length > 0 ? ', what if' : ''}</th>
          </tr>
        </thead>
        <tbody>
          ${rows.map(
            (row) => html`<tr>
              <th scope="row">${row.name}</th>
              <td>${row.recorded}</td>
              <td>${row.isSame ? row.now : html`<strong>${row.now}</strong>`}</td>
            </tr>`,
          )}
        </tbody>
      </table>`;
  }
}

function lower(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}
