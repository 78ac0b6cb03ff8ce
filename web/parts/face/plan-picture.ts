import { type PlanAnswer, type PlanQuestion, plannedScene } from '@taptrue/protocol';
import { drawSetUp, partWordsOf, setUpLayout, sideWordsOf } from '@taptrue/protocol/picture';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { PlainElement } from '../controls/plain-element.ts';
import { pictureMarks } from './picture-marks.ts';

/** Below this width there is no room for words beside the vise. */
const NARROW_PX = 500;
const WORD_PX = 34;

/** The vise as it will lie, seen from above, to scale in angle and length, the operator at the bottom. */
@customElement('plan-picture')
export class PlanPictureElement extends PlainElement {
  @property({ attribute: false }) question!: PlanQuestion;
  @property({ attribute: false }) answer: PlanAnswer | null = null;
  @state() private size = { widthPx: 0, heightPx: 0 };

  private readonly resized = new ResizeObserver(([entry]) => {
    if (entry === undefined) return;
    const { width, height } = entry.contentRect;
    this.size = { widthPx: Math.round(width), heightPx: Math.round(height) };
  });

  override connectedCallback(): void {
    super.connectedCallback();
    this.resized.observe(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.resized.disconnect();
  }

  override render() {
    const { size } = this;
    const { widthPx, heightPx } = size;
    if (widthPx < 50 || heightPx < 50) return nothing;
    const scene = plannedScene(this.question, this.answer);
    const sidePx = widthPx < NARROW_PX ? 18 : 44;
    const layout = setUpLayout(scene, size, { wordPx: WORD_PX, sidePx });
    return html`<svg
      width=${widthPx}
      height=${heightPx}
      viewBox="0 0 ${widthPx} ${heightPx}"
      role="img"
      aria-label=${this.describe()}
    >
      ${pictureMarks([
        ...drawSetUp(scene, layout),
        ...sideWordsOf(size),
        ...(this.answer === null
          ? []
          : partWordsOf(scene, layout, { ...size, wordPx: WORD_PX }, false)),
      ])}
    </svg>`;
  }

  private describe(): string {
    const { answer, question } = this;
    const jaw = `solid jaw at the ${question.jaw.solid === 'rear' ? 'back' : 'front'}`;
    if (answer === null) return `Vise seen from above, standing straight, ${jaw}`;
    const { picture, direction } = answer;
    return `Vise seen from above, set at ${answer.angle.dmsText}, ${jaw}. ${direction.sentence} Pivot at the ${picture.pivotEnd} clamp, mallet at the ${picture.malletEnd} end. The indicator touches the ${picture.indicatorTouches}.`;
  }
}
