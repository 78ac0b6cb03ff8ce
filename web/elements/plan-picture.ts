import type { BuiltStack, PlanAnswer, PlanQuestion } from '@taptrue/protocol';
import { toMm } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { type PlanLayout, planLayout, restingPicture, type Spot } from '../view/plan-layout.ts';
import { PlainElement } from './plain-element.ts';
import {
  drawMalletAt,
  drawPivotPin,
  drawSetVise,
  drawStylus,
  drawTurn,
} from './plan-picture-parts.ts';

/** Below this width there is no room for words beside the vise. */
const NARROW_PX = 500;

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
    const { widthPx, heightPx } = this.size;
    if (widthPx < 50 || heightPx < 50) return nothing;
    const picture = this.answer?.picture ?? restingPicture(this.question.jaw.solid);
    const isNarrow = widthPx < NARROW_PX;
    const layout = planLayout(picture, {
      widthPx,
      heightPx,
      wordPx: 34,
      sidePx: isNarrow ? 18 : 44,
      blocksMm: blocksMm(this.answer?.stack ?? null),
      lowBlocksMm: blocksMm(this.answer?.lowRollStack ?? null),
    });
    const { axis } = layout;
    return html`<svg
      width=${widthPx}
      height=${heightPx}
      viewBox="0 0 ${widthPx} ${heightPx}"
      role="img"
      aria-label=${this.describe()}
    >
      ${drawSetVise(layout)}
      <path class="wanted-line" d="M${axis.from.x} ${axis.from.y}L${axis.to.x} ${axis.to.y}"></path>
      ${drawTurn(layout)} ${drawPivotPin(layout)}
      ${picture.turn === 'none' ? nothing : drawMalletAt(layout)}
      ${this.answer === null ? nothing : drawStylus(layout)}
      <text class="side-word" x=${widthPx / 2} y="18" text-anchor="middle">column</text>
      <text class="side-word" x=${widthPx / 2} y=${heightPx - 7} text-anchor="middle">you</text>
      <text class="side-word" x="4" y=${heightPx - 7}>left</text>
      <text class="side-word" x=${widthPx - 4} y=${heightPx - 7} text-anchor="end">right</text>
      ${this.drawWords(layout)}
    </svg>`;
  }

  private drawWords(layout: PlanLayout) {
    const { answer } = this;
    if (answer === null) return nothing;
    const { widthPx, heightPx } = this.size;
    const end = answer.picture.endAway;
    const axisEnd = layout.axis.to;
    const words: [string, Spot, 'start' | 'middle' | 'end'][] = [];
    if (end !== null)
      words.push([`${end} end away`, layout.ends[end], end === 'left' ? 'start' : 'end']);
    if (layout.stackWord !== null)
      words.push(['stack', layout.stackWord.at, layout.stackWord.anchor]);
    words.push([
      layout.axis.name,
      layout.axis.name === 'X'
        ? { x: Math.min(widthPx - 18, axisEnd.x + 6), y: axisEnd.y - 7 }
        : { x: axisEnd.x + 8, y: Math.max(40, axisEnd.y + 16) },
      'start',
    ]);
    return words.map(
      ([word, { x, y }, anchor]) => svg`<text
        class="plan-word"
        x=${Math.min(widthPx - (anchor === 'start' ? word.length * 9 : 4), Math.max(anchor === 'end' ? word.length * 9 : 4, x)).toFixed(1)}
        y=${Math.min(heightPx - 28, Math.max(36, y)).toFixed(1)}
        text-anchor=${anchor}
      >${word}</text>`,
    );
  }

  private describe(): string {
    const { answer, question } = this;
    const jaw = `solid jaw at the ${question.jaw.solid === 'rear' ? 'back' : 'front'}`;
    if (answer === null) return `Vise seen from above, standing straight, ${jaw}`;
    const { picture, direction } = answer;
    return `Vise seen from above, set at ${answer.angle.dmsText}, ${jaw}. ${direction.sentence} Pivot at the ${picture.pivotEnd} clamp, mallet at the ${picture.malletEnd} end. The indicator touches the ${picture.indicatorTouches}.`;
  }
}

/** Engraved sizes as lengths, only to be drawn; wear blocks outside. */
function blocksMm(stack: BuiltStack | null): number[] {
  if (stack === null) return [];
  const [first, last] = [stack.wear.slice(0, 1), stack.wear.slice(1)];
  return [...first, ...stack.blocks, ...last].map((size) => toMm(Number(size), stack.unit));
}
