import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { PlainElement } from '../controls/plain-element.ts';

let fieldsMade = 0;

/** A text kept as it was typed; the service reads it and says why where it cannot. Fires `typed`. */
@customElement('plan-text')
export class PlanText extends PlainElement {
  @property({ attribute: false }) label = '';
  @property({ attribute: false }) value = '';
  @property({ attribute: false }) placeholder = '';
  @property({ attribute: false }) note = '';
  @property({ attribute: false }) why = '';
  @property({ attribute: false }) mayBeEmpty = false;
  /** Characters at most, as the plan's question takes them. */
  @property({ attribute: false }) most = 40;
  @property({ attribute: false }) disabled = false;
  @state() private isEmpty = false;

  private readonly fieldId = `plan-text-${++fieldsMade}`;

  override render() {
    const why = this.isEmpty ? 'This cannot be left empty.' : this.why;
    const under = why || this.note;
    return html`
      <label for=${this.fieldId}>${this.label}</label>
      <input
        id=${this.fieldId}
        .value=${live(this.value)}
        autocomplete="off"
        autocapitalize="off"
        spellcheck="false"
        maxlength=${this.most}
        placeholder=${this.placeholder || nothing}
        aria-invalid=${why ? 'true' : 'false'}
        aria-describedby=${under ? `${this.fieldId}-note` : nothing}
        ?disabled=${this.disabled}
        @change=${this.take}
      />
      ${
        under
          ? html`<p id="${this.fieldId}-note" class=${why ? 'field-why' : 'field-note'} role=${why ? 'alert' : nothing}>${under}</p>`
          : nothing
      }
    `;
  }

  private readonly take = (event: Event): void => {
    const text = (event.target as HTMLInputElement).value.trim();
    this.isEmpty = text === '' && !this.mayBeEmpty;
    if (this.isEmpty) return;
    this.dispatchEvent(new CustomEvent('typed', { detail: text }));
  };
}
