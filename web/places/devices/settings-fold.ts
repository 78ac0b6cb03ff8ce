import type { SettingRow, SettingsSection } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';

const FROM_WORDS: Readonly<Record<SettingRow['from'], string>> = {
  'command line': 'from the command line',
  environment: 'from the environment',
  'settings file': 'from the settings file',
  default: 'as usual',
};

/** What the service was started with, where each value comes from, and where to change it. */
@customElement('settings-fold')
export class SettingsFold extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private name = '';
  @state() private text = '';

  private get section(): SettingsSection {
    return this.screen.state.settings;
  }

  override render() {
    const { file, fileRead, rows, fault } = this.section;
    const chosen = this.name || rows[0]?.name || '';
    return html`<details>
      <summary>Settings of the service</summary>
      ${fault === null ? nothing : html`<p class="warning"><strong>${fault.what}</strong> Got: <q>${fault.got}</q>. ${fault.remedy}</p>`}
      <dl class="sheet settings">
        ${rows.map(
          ({ name, value, from, what }) => html`<div>
            <dt>${what} <small>${name}</small></dt>
            <dd>${value || '—'} <small>${FROM_WORDS[from]}</small></dd>
          </div>`,
        )}
      </dl>
      <p>
        ${fileRead ? 'They are kept in' : 'Others would be kept in'} <code>${file}</code>. The command line and the environment are
        stronger. What is changed holds from the next start of the service on.
      </p>
      ${this.screen.role === 'bench screen' ? this.renderChange(rows, chosen) : html`<p class="field-note">They are changed on the bench screen.</p>`}
    </details>`;
  }

  private renderChange(rows: readonly SettingRow[], chosen: string) {
    return html`<div class="amount">
      <label class="stacked">Change
        <select
          name="setting"
          @change=${(event: Event) => {
            this.name = (event.target as HTMLSelectElement).value;
          }}
        >${rows.map(({ name }) => html`<option value=${name} ?selected=${name === chosen}>${name}</option>`)}</select>
      </label>
      <label class="stacked">to; empty takes it out of the file
        <input
          name="setting-text"
          autocomplete="off"
          spellcheck="false"
          maxlength="256"
          .value=${this.text}
          @input=${(event: Event) => {
            this.text = (event.target as HTMLInputElement).value;
          }}
        />
      </label>
      <button type="button" class="act" @click=${() => void this.keep(chosen)}>Keep it</button>
    </div>`;
  }

  private async keep(name: string): Promise<void> {
    const answer = await this.handle.command({ kind: 'keep setting', name, text: this.text });
    if (answer.ok) this.text = '';
  }
}
