import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { lastKeyedMm, stopNotch, sweepAnswer, sweepWord } from '../../view/answer.ts';
import type { Notch } from '../../view/gauge-scale.ts';
import '../../parts/face/bench-face.ts';
import '../../parts/controls/demo-handles.ts';
import './nudge-guide.ts';
import './plan-carried.ts';
import '../../parts/face/result-cautions.ts';
import './setup-panel.ts';
import './sweep-controls.ts';
import './sweep-history.ts';
import './sweep-result.ts';

/** The indicator taken along the bar: nudges first, then the sweep, then what it says. */
@customElement('sweep-place')
export class SweepPlace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { sweep, nudges, setup, bench } = this.screen.state;
    const taking = sweep?.state === 'being taken';
    // Marked ends settle the counting as a nudge does; the finding then says so.
    const xWanted = setup.way === 'readout' && isOpen(nudges.x.state) && nudges.x.finding === '';
    const nudgesOpen = sweep === null && (isOpen(nudges.y.state) || xWanted);
    return html`
      <bench-face
        .handle=${this.handle}
        .screen=${this.screen}
        .answer=${sweepAnswer(this.screen)}
        .notch=${this.notch()}
        .bigWord=${sweepWord(this.screen)}
        .keyedMm=${lastKeyedMm(this.screen.state)}
      ></bench-face>
      ${
        bench.cautions.length === 0
          ? nothing
          : html`<ul class="safety" aria-label="Cautions">${bench.cautions.map(({ text }) => html`<li>${text}</li>`)}</ul>`
      }
      ${sweep?.state === 'ended' && sweep.outdated === '' && bench.job.standing !== 'true' && bench.job.next !== sweep.result?.sentence ? html`<p class="job-next"><strong>Next:</strong> ${bench.job.next}</p>` : nothing}
      ${nudgesOpen ? html`<nudge-guide .handle=${this.handle} .screen=${this.screen}></nudge-guide>` : nothing}
      ${taking ? nothing : html`<result-cautions .handle=${this.handle} .screen=${this.screen}></result-cautions>`}
      <sweep-controls .handle=${this.handle} .screen=${this.screen} .nudgesFirst=${nudgesOpen}></sweep-controls>
      <demo-handles .handle=${this.handle} .screen=${this.screen}></demo-handles>
      <sweep-result .screen=${this.screen}></sweep-result>
      <plan-carried .screen=${this.screen}></plan-carried>
      <sweep-history .screen=${this.screen}></sweep-history>
      ${taking ? nothing : html`<setup-panel .handle=${this.handle} .screen=${this.screen}></setup-panel>`}
      ${
        taking || nudgesOpen
          ? nothing
          : html`<nudge-guide .handle=${this.handle} .screen=${this.screen}></nudge-guide>`
      }
    `;
  }

  /** After the sweep the tap-to mark already stands on the rule, so that it is seen before the mallet is lifted. */
  private notch(): Notch | null {
    return stopNotch(this.screen.state);
  }
}

function isOpen(state: string): boolean {
  return state === 'not done' || state === 'waiting for the move';
}
