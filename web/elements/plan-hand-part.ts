import type { Hand } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { handPicture, planLayout } from '../view/plan-layout.ts';
import { choiceRow } from './choice-row.ts';
import { PlanPart } from './plan-part.ts';
import { drawPivotPin, drawSetVise, drawTurn } from './plan-picture-parts.ts';

const HANDS: readonly { hand: Hand; words: string }[] = [
  { hand: 'left-away', words: 'left end away' },
  { hand: 'right-away', words: 'right end away' },
];

const WIDTH_PX = 230;
const HEIGHT_PX = 170;

/** Which way the part is handed, chosen on the picture and not by a word. */
@customElement('plan-hand-part')
export class PlanHandPart extends PlanPart {
  override render() {
    const { question, answer } = this.plan;
    const { solid } = question.jaw;
    return html`<section class="plan-question" aria-label="Hand">
      <h2><span class="step-number">3</span> Which way it leans</h2>
      <fieldset class="choices">
        <legend>Seen from above, you at the bottom: which end of the jaw goes away?</legend>
        <div class="hands">
          ${HANDS.map(
            ({ hand, words }) => html`<button
              type="button"
              class="choice hand"
              aria-pressed=${hand === question.hand}
              ?disabled=${this.off}
              @click=${() => void this.pen.change({ hand })}
            >
              ${this.drawHand(hand)}
              <span>${words}</span>
            </button>`,
          )}
        </div>
      </fieldset>
      ${choiceRow(
        'Solid jaw is',
        [
          { value: 'rear', label: 'at the back' },
          { value: 'front', label: 'at the front' },
        ] as const,
        solid,
        this.off,
        (chosen) => void this.pen.change({ jaw: { ...this.pen.question.jaw, solid: chosen } }),
      )}
      ${this.text(
        'Measured from which line of the print',
        question.referenceLine,
        (referenceLine) => void this.pen.change({ referenceLine }),
        { placeholder: 'such as: datum A, the long edge', mayBeEmpty: true, most: 120 },
      )}
      ${answer === null ? nothing : html`<p class="said" role="status">${answer.direction.sentence}</p>`}
    </section>`;
  }

  private drawHand(hand: Hand) {
    const layout = planLayout(handPicture(hand, this.plan.question.jaw.solid), {
      widthPx: WIDTH_PX,
      heightPx: HEIGHT_PX,
      wordPx: 10,
      sidePx: 16,
      blocksMm: [],
      lowBlocksMm: [],
    });
    return html`<svg viewBox="0 0 ${WIDTH_PX} ${HEIGHT_PX}" aria-hidden="true">
      ${drawSetVise(layout)} ${drawTurn(layout)} ${drawPivotPin(layout)}
    </svg>`;
  }
}
