import { html, nothing, type TemplateResult } from 'lit';
import type { Choice } from '../../parts/controls/choice-row.ts';

export interface TextFieldOptions {
  name: string;
  label: string;
  value: string;
  off: boolean;
  take(text: string): void;
  note?: string;
  placeholder?: string;
  numeric?: boolean;
  wide?: boolean;
}

/** One box of a form that is read as a whole when it is sent. */
export function textField(options: TextFieldOptions): TemplateResult {
  const { name, label, value, off, take, note, placeholder, numeric, wide } = options;
  return html`<label class=${wide ? 'stacked wide' : 'stacked'}>${label}
    <input
      name=${name}
      autocomplete="off"
      spellcheck="false"
      maxlength="200"
      inputmode=${numeric ? 'numeric' : 'text'}
      placeholder=${placeholder ?? nothing}
      .value=${value}
      ?disabled=${off}
      @input=${(event: Event) => take((event.target as HTMLInputElement).value)}
    />
    ${note ? html`<span class="field-note">${note}</span>` : nothing}
  </label>`;
}

/** One of several, where side by side they would fill the page. */
export function selectField<V extends string>(
  name: string,
  label: string,
  choices: readonly Choice<V>[],
  chosen: V,
  off: boolean,
  take: (value: V) => void,
): TemplateResult {
  return html`<label class="stacked">${label}
    <select
      name=${name}
      ?disabled=${off}
      @change=${(event: Event) => take((event.target as HTMLSelectElement).value as V)}
    >
      ${choices.map(
        ({ value, label: words }) =>
          html`<option value=${value} ?selected=${value === chosen}>${words}</option>`,
      )}
    </select>
  </label>`;
}
