import { html } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../elements/bench-handle.ts';
import { PlainElement } from '../elements/plain-element.ts';
import { PlanPen } from '../elements/plan-pen.ts';
import type { Screen } from '../state/latest-state.ts';
import '../elements/plan-angle-part.ts';
import '../elements/plan-bar-part.ts';
import '../elements/plan-budget.ts';
import '../elements/plan-face.ts';
import '../elements/plan-hand-part.ts';
import '../elements/plan-jobs.ts';
import '../elements/plan-line-part.ts';
import '../elements/plan-readd.ts';
import '../elements/plan-set-part.ts';
import '../elements/plan-sets.ts';
import '../elements/plan-stack.ts';
import '../elements/plan-tolerance-part.ts';

/** From the print to the stack and the limit, with the vise as it will lie always in sight. */
@customElement('plan-place')
export class PlanPlace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  private pen: PlanPen | null = null;

  override render() {
    const { screen } = this;
    this.pen ??= new PlanPen(this.handle, screen);
    const { pen } = this;
    pen.follow(screen);
    return html`
      <div class="plan-columns">
        <plan-face .pen=${pen} .screen=${screen}></plan-face>
        <div class="plan-questions">
          <plan-angle-part .pen=${pen} .screen=${screen}></plan-angle-part>
          <plan-line-part .pen=${pen} .screen=${screen}></plan-line-part>
          <plan-hand-part .pen=${pen} .screen=${screen}></plan-hand-part>
          <plan-tolerance-part .pen=${pen} .screen=${screen}></plan-tolerance-part>
          <plan-bar-part .pen=${pen} .screen=${screen}></plan-bar-part>
          <plan-set-part .pen=${pen} .screen=${screen}></plan-set-part>
          <plan-stack .pen=${pen} .screen=${screen}></plan-stack>
          <plan-readd .pen=${pen} .screen=${screen}></plan-readd>
          <plan-budget .pen=${pen} .screen=${screen}></plan-budget>
          <plan-sets .pen=${pen} .screen=${screen}></plan-sets>
          <plan-jobs .pen=${pen} .screen=${screen}></plan-jobs>
        </div>
      </div>
    `;
  }
}
