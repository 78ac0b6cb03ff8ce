import { html, type TemplateResult } from 'lit';

export interface Choice<V> {
  value: V;
  label: string;
}

/** A few choices side by side, each a target for a thumb. */
export function choiceRow<V extends string | number | boolean | null>(
  label: string,
  choices: readonly Choice<V>[],
  chosen: V,
  disabled: boolean,
  choose: (value: V) => void,
): TemplateResult {
  return html`<fieldset class="choices">
    <legend>${label}</legend>
    <div class="choices-row">
      ${choices.map(
        ({ value, label: words }) => html`<button
          type="button"
          class="choice"
          aria-pressed=${value === chosen}
          ?disabled=${disabled}
          @click=${() => choose(value)}
        >${words}</button>`,
      )}
    </div>
  </fieldset>`;
}
