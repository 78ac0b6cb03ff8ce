import type { StandingFault } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Screen } from '../../state/latest-state.ts';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';

/** Shown at once; the rest are counted. A screenful of faults would hide the needle. */
const SHOWN_AT_ONCE = 2;

/** What is wrong and stays wrong until read or put right: what, got, what to do. */
@customElement('standing-faults')
export class StandingFaults extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) all = false;

  override render() {
    const { standing } = this.screen.state.faults;
    const shown = this.all ? standing : standing.slice(0, SHOWN_AT_ONCE);
    const rest = standing.length - shown.length;
    return html`<div role="alert" class="faults">
      ${shown.map((fault) => this.renderFault(fault))}
      ${rest > 0 ? html`<p class="fault-rest"><a href="#devices">${rest} more on the Devices place</a></p>` : nothing}
    </div>`;
  }

  private renderFault(fault: StandingFault) {
    return html`<div class="fault">
      <svg viewBox="0 0 24 24" aria-hidden="true"><path d="M12 1l11 21H1zM11 8v7h2V8zM11 17v2h2v-2z"></path></svg>
      <p>
        <strong>${fault.from}: ${fault.what}</strong>
        ${fault.got ? html`Got: <q>${fault.got}</q>.` : nothing} ${fault.remedy}
        ${fault.times > 1 ? html`<span class="times">(${fault.times} times)</span>` : nothing}
      </p>
      <button
        type="button"
        class="act"
        ?disabled=${!this.screen.mayCommand}
        @click=${() => void this.handle.command({ kind: 'clear fault', code: fault.code })}
      >Close</button>
    </div>`;
  }
}
