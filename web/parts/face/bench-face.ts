import { html } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Screen } from '../../state/latest-state.ts';
import type { FaceAnswer } from '../../view/answer.ts';
import type { Notch } from '../../view/gauge-scale.ts';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';
import './answer-panel.ts';
import './straight-gauge.ts';
import './vise-picture.ts';

/** The face of the bench, the same in every place: picture, one sentence, one number, the rule below. */
@customElement('bench-face')
export class BenchFace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) answer!: FaceAnswer;
  @property({ attribute: false }) notch: Notch | null = null;
  @property({ attribute: false }) parkedReadingMm: number | null = null;
  @property({ attribute: false }) stylusMm: number | null = null;
  @property({ attribute: false }) keyedMm: number | null = null;
  @property({ attribute: false }) bigWord = '';

  override render() {
    return html`
      <div class="face-picture">
        <vise-picture
          .handle=${this.handle}
          .bench=${this.screen.state}
          .stylusMm=${this.stylusMm}
        ></vise-picture>
      </div>
      <answer-panel .handle=${this.handle} .answer=${this.answer} .bigWord=${this.bigWord}></answer-panel>
      <straight-gauge
        .handle=${this.handle}
        .notch=${this.notch}
        .parkedMm=${this.parkedReadingMm}
        .keyedMm=${this.keyedMm}
        .showsReading=${this.answer.number.text !== null}
      ></straight-gauge>
    `;
  }
}
