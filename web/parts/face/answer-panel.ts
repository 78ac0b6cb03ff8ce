import { html, nothing, svg } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { LatestState } from '../../state/latest-state.ts';
import type { FaceAnswer } from '../../view/answer.ts';
import { readingText, whyNotToGoBy } from '../../view/reading-standing.ts';
import { standingNow } from '../../view/standing-now.ts';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';
import { VERDICT_SHAPES } from './verdict-shapes.ts';

/** One sentence and one number. The number's box is as wide as its widest value, so nothing jumps. */
@customElement('answer-panel')
export class AnswerPanel extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) answer!: FaceAnswer;
  /** A big word in place of the verdict, e.g. `stop`. */
  @property({ attribute: false }) bigWord = '';
  /** Set by the clock, not by a message: a service that is gone sends none. */
  @state() private inDoubt: { word: string; why: string } | null = null;
  @query('.live-number') private liveNumber!: HTMLElement | null;
  @query('.live-unit') private liveUnit!: HTMLElement | null;

  private leave: (() => void) | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.leave = this.handle.loop.add(this.paint);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.leave?.();
  }

  private readonly paint = (latest: LatestState, nowMs: number): void => {
    if (latest.state === null) return;
    const standing = standingNow(latest, latest.state, nowMs);
    const why = this.answer.followsReading ? whyNotToGoBy(standing) : '';
    if (why !== (this.inDoubt?.why ?? '')) {
      this.inDoubt = why === '' ? null : { word: standing.word, why };
    }
    const { liveNumber, liveUnit } = this;
    if (liveNumber === null || liveUnit === null) return;
    const text = readingText(standing.reading);
    if (liveNumber.textContent !== text) liveNumber.textContent = text;
    const unit = standing.reading === null ? '' : standing.reading.unit;
    if (liveUnit.textContent !== unit) liveUnit.textContent = unit;
    liveNumber.classList.toggle('greyed', standing.greyed);
  };

  override render() {
    const { number, sentence, verdict, followsReading } = this.answer;
    const inDoubt = followsReading ? this.inDoubt : null;
    const bigWord = inDoubt?.word ?? this.bigWord;
    return html`
      <div class="answer-word" role="status" aria-live="polite">
        ${
          verdict === null
            ? bigWord
              ? html`<span class="big-word">${bigWord}</span>`
              : nothing
            : html`<svg viewBox="0 0 64 60" aria-hidden="true">${svg`<path d=${VERDICT_SHAPES[verdict]}></path>`}</svg>
                <span class="big-word verdict" data-verdict=${verdict}>${verdict}</span>`
        }
      </div>
      <p class="answer-label">${number.label}</p>
      <p class="answer-number ${number.text === null || number.text.length > 6 ? 'long' : ''}">
        ${
          number.text === null
            ? html`<span class="number live-number"></span><span class="unit live-unit"></span>`
            : html`<span class="number ${inDoubt ? 'greyed' : ''}">${number.text}</span><span class="unit">${number.unit}</span>`
        }
      </p>
      <p class="answer-sentence" aria-live="polite">${inDoubt?.why ?? sentence}</p>
    `;
  }
}
