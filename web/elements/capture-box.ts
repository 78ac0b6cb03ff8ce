import { html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { PlainElement } from './plain-element.ts';

/** Longest typed reading the service takes. */
const LONGEST_KEYED = 40;

/**
 * Where typed readings land, and nowhere else: from the keyboard, or from an indicator lead that types. Enter
 * or Tab takes; Tab in an empty box goes on as everywhere, so the box is no trap. Fires `keyed`.
 */
@customElement('capture-box')
export class CaptureBox extends PlainElement {
  @property({ attribute: false }) label = 'Reading';
  @property({ attribute: false }) note = '';
  @property({ attribute: false }) disabled = false;
  @state() private strayHint = false;
  @state() private emptyHint = false;
  @state() private focused = false;
  @query('input') private box!: HTMLInputElement | null;

  override connectedCallback(): void {
    super.connectedCallback();
    document.addEventListener('keydown', this.onStrayKey);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    document.removeEventListener('keydown', this.onStrayKey);
  }

  override firstUpdated(): void {
    if (!this.disabled) this.box?.focus({ preventScroll: true });
  }

  /** Takes what stands in the box, as the big button does. */
  take(): void {
    const text = this.box?.value.trim() ?? '';
    if (this.box === null || this.disabled) return;
    this.box.focus({ preventScroll: true });
    this.emptyHint = text === '';
    if (text === '') return;
    this.box.value = '';
    this.dispatchEvent(new CustomEvent('keyed', { detail: text }));
  }

  override render() {
    return html`
      <label for="capture">${this.label}</label>
      <input
        id="capture"
        class="capture"
        inputmode="text"
        autocomplete="off"
        spellcheck="false"
        maxlength=${LONGEST_KEYED}
        ?disabled=${this.disabled}
        aria-describedby="capture-note"
        @keydown=${this.onKey}
        @input=${this.onInput}
        @focus=${this.onFocus}
        @blur=${this.onBlur}
      />
      <p id="capture-note" class="field-note">
        ${this.focused ? html`<strong>Readings land here.</strong> Enter or Tab takes. ${this.note}` : html`Touch the box before keying. ${this.note}`}
      </p>
      ${this.emptyHint ? html`<p class="field-why" role="alert">Nothing is typed yet, so nothing was taken. Type what the dial shows.</p>` : nothing}
      ${
        this.strayHint
          ? html`<p class="field-why" role="alert">
              Typed characters went nowhere: the box was not chosen.
              <button type="button" class="act" @click=${() => this.box?.focus()}>Choose the box</button>
            </p>`
          : nothing
      }
    `;
  }

  private readonly onKey = (event: KeyboardEvent): void => {
    const takes = event.key === 'Enter' || (event.key === 'Tab' && !event.shiftKey);
    if (!takes || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === 'Tab' && this.box?.value.trim() === '') return;
    event.preventDefault();
    if (!event.repeat) this.take();
  };

  private readonly onInput = (): void => {
    this.emptyHint = false;
  };

  private readonly onFocus = (): void => {
    this.focused = true;
    this.strayHint = false;
  };

  private readonly onBlur = (): void => {
    this.focused = false;
  };

  private readonly onStrayKey = (event: KeyboardEvent): void => {
    if (this.disabled || event.ctrlKey || event.altKey || event.metaKey) return;
    const target = event.target as HTMLElement;
    if (target.closest('input, textarea, select') !== null) return;
    if (/^[0-9.,+\-−]$/.test(event.key)) this.strayHint = true;
  };
}
