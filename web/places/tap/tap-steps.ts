import { formatLength } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { acrossWord, EFFECT_WORDS, turnText } from '../../view/words.ts';

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
        <div><dt>turn still wanted, seen from above</dt><dd>${tap.remainingArcsec === null ? '—' : turnText(tap.remainingArcsec)}</dd></div>
        <div><dt>dial when parked</dt><dd>${formatLength(tap.parkedReadingMm, setup.displayUnit, { plus: true })}</dd></div>
      </dl>
      <ol>
        ${[...tap.steps].reverse().map(
          (step) => html`<li>
            <span class="history-id">${step.number}</span>
            <span class="history-verdict">${EFFECT_WORDS[step.effect]}</span>
            ${
              step.effect === 'nothing moved'
                ? nothing
                : html`<span class="history-figure">${formatLength(Math.abs(step.atMalletMm), unit)} ${acrossWord(step.atMalletMm, setup.axis)} at the mallet</span>
            <span class="history-shift">turned ${turnText(step.turnedArcsec)}</span>`
            }
            <span class="history-stage">dial ${formatLength(step.beforeMm, unit, { plus: true, bare: true })} to
              ${formatLength(step.afterMm, unit, { plus: true })}</span>
          </li>`,
        )}
      </ol>
    </section>`;
  }
}
