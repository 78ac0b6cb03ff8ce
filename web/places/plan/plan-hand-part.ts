import { type Hand, handScene } from '@taptrue/protocol';
import { drawSetUp, setUpLayout } from '@taptrue/protocol/picture';
import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { pictureMarks } from '../../parts/face/picture-marks.ts';
import { PlanPart } from './plan-part.ts';

const HANDS: readonly { hand: Hand; words: string }[] = [
  { hand: 'left-away', words: 'left end away' },
  { hand: 'right-away', words: 'right end away' },
];

const SIZE = { widthPx: 230, heightPx: 170 };

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
      ${answer === null ? nothing : html`<p class="said" role="status">${answer.direction.sentence}</p>`}
    </section>`;
  }

  private drawHand(hand: Hand) {
    const scene = handScene(hand, this.plan.question.jaw.solid);
    const layout = setUpLayout(scene, SIZE, { wordPx: 10, sidePx: 16 });
    return html`<svg viewBox="0 0 ${SIZE.widthPx} ${SIZE.heightPx}" aria-hidden="true">
      ${pictureMarks(drawSetUp(scene, layout, true))}
    </svg>`;
  }
}
