import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { stopNotch, tapAnswer, tapWord } from '../../view/answer.ts';
import type { Notch } from '../../view/gauge-scale.ts';
import '../../parts/face/bench-face.ts';
import '../../parts/controls/demo-handles.ts';
import '../../parts/face/result-cautions.ts';
import './tap-aim.ts';
import './tap-controls.ts';
import './tap-steps.ts';

/** The mallet's moment: the stylus stands still, the needle is watched into the notch. */
@customElement('tap-place')
export class TapPlace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { tap, bench, links } = this.screen.state;
    // Parking comes first; once parked, the simulated mallet belongs beside the needle.
    const controls = html`<tap-controls .handle=${this.handle} .screen=${this.screen}></tap-controls>`;
    return html`
      <bench-face
        .handle=${this.handle}
        .screen=${this.screen}
        .answer=${tapAnswer(this.screen)}
        .notch=${this.notch()}
        .parkedReadingMm=${tap?.parkedReadingMm ?? null}
        .stylusMm=${tap?.parkedAtMm ?? null}
        .keyedMm=${links.indicator.state === 'not set' ? (tap?.readingMm ?? null) : null}
        .bigWord=${tapWord(this.screen)}
      ></bench-face>
      ${
        bench.cautions.length === 0
          ? nothing
          : html`<ul class="safety" aria-label="Cautions">${bench.cautions.map(({ text }) => html`<li>${text}</li>`)}</ul>`
      }
      <result-cautions .handle=${this.handle} .screen=${this.screen}></result-cautions>
      ${tap === null ? controls : nothing}
      <tap-aim .handle=${this.handle} .screen=${this.screen}></tap-aim>
      <demo-handles .handle=${this.handle} .screen=${this.screen} .malletFirst=${true}></demo-handles>
      ${tap === null ? nothing : controls}
      <tap-steps .screen=${this.screen}></tap-steps>
    `;
  }

  private notch(): Notch | null {
    const { tap } = this.screen.state;
    if (tap !== null) {
      const at = tap.tapToReadingMm;
      return {
        readingMm: at,
        lowMm: tap.stopBandMm?.lowMm ?? at,
        highMm: tap.stopBandMm?.highMm ?? at,
      };
    }
    return stopNotch(this.screen.state);
  }
}
