import {
  type BuiltStack,
  formatAngle,
  formatLength,
  type NearStack,
  radiansFromArcsec,
} from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { PlanPart } from './plan-part.ts';
import { columnOf, decisionsMade } from './view/plan-words.ts';

/** What is to be decided, and the stack with its sum as it is taught. */
@customElement('plan-stack')
export class PlanStack extends PlanPart {
  override render() {
    const { answer, question } = this.plan;
    if (answer === null && this.whyOf('low stack') === '') return nothing;
    return html`<section class="plan-question" aria-label="Stack">
      <h2><span class="step-number">7</span> The stack</h2>
      ${this.renderOffers()}
      ${question.decisions.shallow === 'both rolls' ? this.renderLow() : nothing}
      ${
        answer === null
          ? nothing
          : answer.stack === null
            ? this.renderNone()
            : html`
            ${this.renderStack(answer.stack, answer.lowRollStack === null ? '' : `Under the ${answer.direction.stackEnd} roll`)}
            ${answer.lowRollStack === null ? nothing : this.renderStack(answer.lowRollStack, 'Under the other roll')}
            ${this.renderLeftover()}
          `
      }
    </section>`;
  }

  private renderOffers() {
    const { answer, question } = this.plan;
    const made = decisionsMade(question);
    return html`
      ${
        answer === null || answer.offers.length === 0
          ? nothing
          : html`<p class="ask-now">To decide</p>
              <div class="offers">
                ${answer.offers.map(
                  ({ decision, choice, text }) => html`<button
                    type="button"
                    class="act offer"
                    ?disabled=${this.off}
                    @click=${() => this.decide(decision, choice)}
                  >${text}</button>`,
                )}
              </div>`
      }
      ${made.map(
        ({ decision, says }) => html`<div class="settled">
          <p>${says}</p>
          <button type="button" class="act" ?disabled=${this.off} @click=${() => this.decide(decision, null)}>Decide again</button>
        </div>`,
      )}
    `;
  }

  /** Two stacks at once from one set, where the low one must be of a certain height. */
  private renderLow() {
    return this.text(
      'Height under the other roll, if it must be a certain one',
      this.plan.question.lowStack ?? '',
      (lowStack) => void this.pen.change({ lowStack: lowStack === '' ? null : lowStack }),
      {
        placeholder: 'such as: 0.5in',
        note: 'Left empty: the fewest blocks. Both stacks come from one set, no block twice.',
        why: this.whyOf('low stack'),
        mayBeEmpty: true,
      },
    );
  }

  private decide(decision: string, choice: string | null): void {
    void this.pen.change({
      decisions: { ...this.pen.question.decisions, [decision]: choice },
    });
  }

  private renderNone() {
    const answer = this.plan.answer!;
    if (answer.targetText === null) {
      return html`<p>No stack: ${answer.direction.steps.at(-1)}</p>`;
    }
    return html`
      <p class="warning">${answer.targetText} ${this.setUnit ?? ''} cannot be built from this set.</p>
      <dl class="echo">
        ${this.renderNear('nearest below', answer.below)}
        ${this.renderNear('nearest above', answer.above)}
      </dl>
    `;
  }

  private renderNear(name: string, near: NearStack | null) {
    if (near === null) return html`<div><dt>${name}</dt><dd>none</dd></div>`;
    const angle =
      near.angleDeg === null || near.angleErrorArcsec === null
        ? 'higher than the bar is long'
        : `${formatAngle((near.angleDeg * Math.PI) / 180)}, off by ${formatAngle(radiansFromArcsec(near.angleErrorArcsec), { plus: true })}`;
    return html`<div>
      <dt>${name}</dt>
      <dd>${near.sumText} = ${[...near.wear, ...near.blocks].join(' + ')}<br />${angle}</dd>
    </div>`;
  }

  private renderStack(stack: BuiltStack, title: string) {
    const rows = stack.worked.flatMap(({ from, take }) => [from, take]);
    const figures = columnOf([...rows, stack.worked.at(-1)?.leaves ?? '', stack.sumText]);
    return html`
      ${title ? html`<h3>${title}</h3>` : nothing}
      <div class="stack-pair">
        <ul class="blocks" aria-label="Blocks of the stack">
          ${stack.wear.slice(0, 1).map((size) => html`<li class="block">${size} <small>wear, outside</small></li>`)}
          ${stack.blocks.map((size) => html`<li class="block">${size}</li>`)}
          ${stack.wear.slice(1).map((size) => html`<li class="block">${size} <small>wear, outside</small></li>`)}
          <li class="block-sum">${stack.sumText} ${stack.unit}</li>
        </ul>
        ${
          stack.worked.length === 0
            ? nothing
            : html`<table class="worked">
                <caption>Worked from the last decimal up</caption>
                <tbody>
                  ${stack.worked.map(
                    ({ take }, index) => html`
                      <tr class="worked-from"><th scope="row">${index === 0 ? (stack.wear.length > 0 ? 'less the wear pair' : 'height') : 'leaves'}</th><td>${figures[index * 2]}</td></tr>
                      <tr class="worked-take"><th scope="row">take ${take}</th><td>− ${figures[index * 2 + 1]}</td></tr>
                    `,
                  )}
                  <tr class="worked-from"><th scope="row">leaves</th><td>${figures[rows.length]}</td></tr>
                </tbody>
              </table>`
        }
      </div>
      ${
        stack.alternatives.length === 0
          ? nothing
          : html`<details>
              <summary>${stack.alternatives.length}${stack.alternativesCut ? ' and more' : ''} other ${stack.alternatives.length === 1 ? 'stack' : 'stacks'} of as few blocks</summary>
              <ul class="alternatives">
                ${stack.alternatives.map((blocks) => html`<li>${blocks.join(' + ')}</li>`)}
              </ul>
            </details>`
      }
    `;
  }

  private renderLeftover() {
    const { answer, question } = this.plan;
    const { leftoverMm, angleErrorArcsec, angleSetDeg } = answer!;
    if (leftoverMm === null || angleErrorArcsec === null || angleSetDeg === null) return nothing;
    const unit = question.displayUnit;
    const left = formatLength(leftoverMm, unit, { decimals: unit === 'in' ? 6 : 5, plus: true });
    return html`<dl class="echo">
      <div><dt>left over</dt><dd>${left}</dd></div>
      <div><dt>that is, as angle</dt><dd>${formatAngle(radiansFromArcsec(angleErrorArcsec), { plus: true })}</dd></div>
      <div><dt>angle as set</dt><dd>${formatAngle((angleSetDeg * Math.PI) / 180)}</dd></div>
    </dl>`;
  }
}
