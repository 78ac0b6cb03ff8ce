import { html } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';

/** A button that loses something: pressed once it asks in its own words, pressed again it fires `sure`. */
@customElement('ask-twice')
export class AskTwice extends PlainElement {
  @property({ attribute: false }) label = '';
  @property({ attribute: false }) really = '';
  @property({ attribute: false }) disabled = false;
  @state() private isAsked = false;

  override render() {
    return html`<button
      type="button"
      class="act ${this.isAsked ? 'act-sure' : ''}"
      ?disabled=${this.disabled}
      @click=${this.press}
      @blur=${() => {
        this.isAsked = false;
      }}
    >${this.isAsked ? this.really : this.label}</button>`;
  }

  private readonly press = (): void => {
    this.isAsked = !this.isAsked;
    if (!this.isAsked) this.dispatchEvent(new CustomEvent('sure'));
  };
}
