import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlanPart } from './plan-part.ts';
import { chosenLine, fromLine, plainKind } from './view/plan-lines.ts';
import { ANGLE_KINDS, exampleOf, NO_DECISIONS } from './view/plan-words.ts';

/** The angle as the print has it, and the same angle in every other way, so that a misread one is seen. */
@customElement('plan-angle-part')
export class PlanAnglePart extends PlanPart {
  override render() {
    const { question, answer, refusal } = this.plan;
    const kind = plainKind(question.angle.kind);
    const meanings = refusal?.field === 'angle' ? refusal.meanings : [];
    return html`<section class="plan-question" aria-label="Angle">
      <h2><span class="step-number">1</span> Angle on the print</h2>
      ${this.text('Angle, as written', question.angle.text, (text) => this.take({ text }), {
        placeholder: exampleOf(kind),
        note: `With its unit: ${exampleOf(kind)}`,
        why: this.whyOf('angle'),
        mayBeEmpty: true,
      })}
      ${
        meanings.length === 0
          ? nothing
          : html`<div class="acts" role="group" aria-label="Which is meant?">
              <p class="ask-now">Which is meant?</p>
              ${meanings.map(
                ({ text, says }) => html`<button
                  type="button"
                  class="act act-now"
                  ?disabled=${this.off}
                  @click=${() => this.take({ text })}
                >${says}</button>`,
              )}
            </div>`
      }
      ${choiceRow('Written as', ANGLE_KINDS, kind, this.off, (kind) => this.take({ kind }))}
      ${
        answer === null
          ? nothing
          : html`${answer.written.isTurned ? html`<p class="field-note">What is to be set:</p>` : nothing}
            <dl class="echo" aria-label="The same angle">
              ${answer.angle.lines.map(({ name, text }) => html`<div><dt>${name}</dt><dd>${text}</dd></div>`)}
            </dl>`
      }
    </section>`;
  }

  /** Another angle is another question: what was decided for the last one does not hold. */
  private take(change: Partial<{ text: string; kind: (typeof ANGLE_KINDS)[number]['value'] }>) {
    const { question } = this.pen;
    const kind = plainKind(question.angle.kind);
    void this.pen.change({
      angle: { ...question.angle, kind, ...change },
      // An old job that said by its kind that half is set says it by its line from now on.
      ...(kind === question.angle.kind
        ? {}
        : { measuredFrom: fromLine(question, chosenLine(question)) }),
      decisions: NO_DECISIONS,
    });
  }
}
