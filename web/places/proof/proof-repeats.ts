import { formatLength, type Repeats } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { actButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';

/** How the slope repeats where nothing was touched, and the offer to reckon with it. */
@customElement('proof-repeats')
export class ProofRepeats extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) repeats!: Repeats;

  override render() {
    const { repeats } = this;
    const { indicator, displayUnit: unit } = this.screen.state.setup;
    const length = (mm: number) => formatLength(mm, unit, { decimals: unit === 'in' ? 6 : 5 });
    const isTaken = indicator.repeatabilityMm === repeats.readingMm;
    const now =
      indicator.repeatabilityMm === null
        ? 'So far the ± of a sweep leaves out how a reading repeats.'
        : `So far the ± of a sweep takes a reading to repeat to ${length(indicator.repeatabilityMm)}.`;
    return html`<section class="proof-part" aria-label="Repeatability">
      <h2>How it repeats, at ${repeats.stage}</h2>
      <p>Sweeps ${repeats.sweeps.join(', ')}. ${repeats.words}</p>
      ${
        repeats.enough
          ? html`<p>${isTaken ? 'The ± of a sweep reckons with it.' : now} The scatter about each line is in this figure and is counted beside it too: on the safe side.</p>
            ${
              isTaken
                ? nothing
                : html`<div class="acts">${actButton(
                    this.screen,
                    this.handle,
                    `Reckon with ${length(repeats.readingMm)} for one reading`,
                    {
                      kind: 'change setup',
                      change: { indicator: { ...indicator, repeatabilityMm: repeats.readingMm } },
                    },
                  )}</div>`
            }`
          : nothing
      }
    </section>`;
  }
}
