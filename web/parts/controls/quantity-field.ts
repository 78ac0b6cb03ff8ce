import type { LengthUnit } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { parseQuantity, type QuantityKind, quantityText } from '../../view/quantity-text.ts';
import { PlainElement } from './plain-element.ts';

let fieldsMade = 0;

/**
 * A typed length, angle or count with its unit. What cannot be understood stays as it was typed, with the
 * reason under it, and changes nothing. Fires `quantity` with the value in mm, radians or as a number; null
 * where the field may be left empty.
 */
@customElement('quantity-field')
export class QuantityField extends PlainElement {
  @property({ attribute: false }) label = '';
  @property({ attribute: false }) kind: QuantityKind = 'length';
  @property({ attribute: false }) unit: LengthUnit = 'in';
  @property({ attribute: false }) value: number | null = null;
  @property({ attribute: false }) mayBeEmpty = false;
  /** Shown in an empty field: what leaving it empty means. */
  @property({ attribute: false }) emptyWord = 'not known';
  @property({ attribute: false }) note = '';
  @property({ attribute: false }) disabled = false;
  @state() private refusedText: string | null = null;
  @state() private why = '';

  private readonly fieldId = `quantity-${++fieldsMade}`;

  override render() {
    const text = this.refusedText ?? quantityText(this.value, this.kind, this.unit);
    const described = this.why || this.note ? `${this.fieldId}-note` : nothing;
    return html`
      <label for=${this.fieldId}>${this.label}</label>
      <input
        id=${this.fieldId}
        .value=${live(text)}
        autocomplete="off"
        spellcheck="false"
        inputmode=${this.kind === 'count' ? 'numeric' : 'text'}
        placeholder=${this.mayBeEmpty ? this.emptyWord : nothing}
        aria-invalid=${this.why ? 'true' : 'false'}
        aria-describedby=${described}
        ?disabled=${this.disabled}
        @change=${this.take}
      />
      ${
        this.why
          ? html`<p id="${this.fieldId}-note" class="field-why" role="alert">${this.why}</p>`
          : this.note
            ? html`<p id="${this.fieldId}-note" class="field-note">${this.note}</p>`
            : nothing
      }
    `;
  }

  private readonly take = (event: Event): void => {
    const text = (event.target as HTMLInputElement).value;
    if (text.trim() === '') {
      this.settle(
        text,
        this.mayBeEmpty
          ? { ok: true, value: null }
          : { ok: false, why: 'This cannot be left empty.' },
      );
      return;
    }
    this.settle(text, parseQuantity(text, this.kind, this.unit));
  };

  private settle(
    text: string,
    parsed: { ok: true; value: number | null } | { ok: false; why: string },
  ): void {
    this.refusedText = parsed.ok ? null : text;
    this.why = parsed.ok ? '' : parsed.why;
    if (parsed.ok) {
      this.dispatchEvent(new CustomEvent('quantity', { detail: parsed.value }));
      this.requestUpdate();
    }
  }
}

/** The value of a `quantity` event of a field that may not be empty. */
export function quantityOf(event: Event): number {
  return (event as CustomEvent<number>).detail;
}

export function quantityOrNull(event: Event): number | null {
  return (event as CustomEvent<number | null>).detail;
}
