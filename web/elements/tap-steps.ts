import { formatAngle, formatLength, radiansFromArcsec } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Screen } from '../state/latest-state.ts';
import { EFFECT_WORDS } from '../view/words.ts';
import { PlainElement } from './plain-element.ts';

/** Each tap as a step with its effect, newest first. */
@customElement('tap-steps')
export class TapSteps extends PlainElement {
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { tap, setup } = this.screen.state;
    if (tap === null) return nothing;
    const unit = setup.displayUnit;
    return html`<section class="history" aria-label="Taps">
      <h2>Taps</h2>
      <dl class="sheet tap-sheet">
        <div><dt>turn still wanted</dt><dd>${tap.remainingArcsec === null ? '—' : formatAngle(radiansFromArcsec(tap.remainingArcsec), { plus: true })}</dd></div>
        <div><dt>dial when parked</dt><dd>${formatLength(tap.parkedReadingMm, setup.displayUnit, { plus: true })}</dd></div>
        <div><dt>clamps</dt><dd>${this.screen.state.bench.stage}</dd></div>
      </dl>
      <ol>
        ${[...tap.steps].reverse().map(
          (step) => html`<li>
            <span class="history-id">${step.number}</span>
            <span class="history-verdict">${EFFECT_WORDS[step.effect]}</span>
            <span class="history-figure">${formatLength(step.atMalletMm, unit, { plus: true })} at the mallet</span>
            <span class="history-stage">dial ${formatLength(step.beforeMm, unit, { plus: true, bare: true })} to
              ${formatLength(step.afterMm, unit, { plus: true })}</span>
            <span class="history-shift">turned ${formatAngle(radiansFromArcsec(step.turnedArcsec), { plus: true })}</span>
          </li>`,
        )}
      </ol>
    </section>`;
  }
}
