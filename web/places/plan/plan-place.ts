import { html } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { PlanEditor } from './plan-editor.ts';
import './plan-angle-part.ts';
import './plan-bar-part.ts';
import './plan-budget.ts';
import './plan-face.ts';
import './plan-hand-part.ts';
import './plan-jobs.ts';
import './plan-line-part.ts';
import './plan-readd.ts';
import './plan-set-part.ts';
import './plan-sets.ts';
import './plan-stack.ts';
import './plan-tolerance-part.ts';

/** From the print to the stack and the limit, with the vise as it will lie always in sight. */
@customElement('plan-place')
export class PlanPlace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  private pen: PlanEditor | null = null;

  override render() {
    const { screen } = this;
    this.pen ??= new PlanEditor(this.handle, screen);
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
