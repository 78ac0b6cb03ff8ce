import type { MeasuredFrom } from '@taptrue/protocol';
import { drawLineChoice, type LineChoice } from '@taptrue/protocol/picture';
import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { pictureMarks } from '../../parts/face/picture-marks.ts';
import { PlanPart } from './plan-part.ts';
import { CUTS, chosenLine, fromLine, LINES, plainKind } from './view/plan-lines.ts';
import { NO_DECISIONS } from './view/plan-words.ts';

const SIZE = { widthPx: 190, heightPx: 140 };

/** Which line of the print the angle is measured from, chosen on pictures of the work in the vise. */
@customElement('plan-line-part')
export class PlanLinePart extends PlanPart {
  override render() {
    const { question, answer } = this.plan;
    const chosen = chosenLine(question);
    return html`<section class="plan-question" aria-label="Measured from">
      <h2><span class="step-number">2</span> Measured from which line</h2>
      <fieldset class="choices">
        <legend>Seen from above: the heavy edge is the cut, the chain line is what the print measures from, the arc is its angle</legend>
        <div class="lines">
          ${LINES.map(({ line, picture, words, sets }) =>
            this.choice(picture, words, sets, line === chosen, () =>
              this.take(fromLine(this.pen.question, line)),
            ),
          )}
        </div>
      </fieldset>
      ${question.measuredFrom?.line === 'another edge' ? this.renderEdge(question.measuredFrom) : nothing}
      ${answer === null ? nothing : html`<p class="said" role="status">${answer.written.sentence}</p>`}
      ${this.text(
        'Which edge of the print that line is',
        question.referenceLine,
        (referenceLine) => void this.pen.change({ referenceLine }),
        { placeholder: 'such as: datum A, the long edge', mayBeEmpty: true, most: 120 },
      )}
    </section>`;
  }

  private renderEdge(from: Extract<MeasuredFrom, { line: 'another edge' }>) {
    return html`
      ${this.text(
        'Angle of that edge from the jaw',
        from.edgeAngle,
        (edgeAngle) => this.take({ ...from, edgeAngle }),
        {
          placeholder: '5deg or 5deg30min',
          note: 'With its unit: 5deg or 5deg30min',
          why: this.whyOf('angle of the edge'),
          mayBeEmpty: true,
        },
      )}
      <fieldset class="choices">
        <legend>How the cut lies to that edge; dotted is the jaw’s own line</legend>
        <div class="lines">
          ${CUTS.map(({ cut, words, sets }) =>
            this.choice(cut, words, sets, cut === from.cut, () => this.take({ ...from, cut })),
          )}
        </div>
      </fieldset>`;
  }

  private choice(
    picture: LineChoice,
    words: string,
    sets: string,
    isChosen: boolean,
    choose: () => void,
  ) {
    const { hand, jaw } = this.plan.question;
    return html`<button
      type="button"
      class="choice hand"
      aria-pressed=${isChosen}
      ?disabled=${this.off}
      @click=${choose}
    >
      <svg viewBox="0 0 ${SIZE.widthPx} ${SIZE.heightPx}" aria-hidden="true">
        ${pictureMarks(drawLineChoice(picture, hand, jaw.solid, SIZE))}
      </svg>
      <span>${words}</span>
      <small>${sets}</small>
    </button>`;
  }

  /** Another line is another angle: what was decided for the last one does not hold. */
  private take(measuredFrom: MeasuredFrom) {
    const { angle } = this.pen.question;
    const kind = plainKind(angle.kind);
    void this.pen.change({
      measuredFrom,
      ...(kind === angle.kind ? {} : { angle: { ...angle, kind } }),
      decisions: NO_DECISIONS,
    });
  }
}
