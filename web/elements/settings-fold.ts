import type { SettingRow, SettingsSection } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from './plain-element.ts';

const FROM_WORDS: Readonly<Record<SettingRow['from'], string>> = {
  'command line': 'from the command line',
  environment: 'from the environment',
  'settings file': 'from the settings file',
  default: 'as usual',
};

/** What the service was started with, where each value comes from, and where to change it. */
@customElement('settings-fold')
export class SettingsFold extends PlainElement {
  @property({ attribute: false }) section!: SettingsSection;

  override render() {
    const { file, fileRead, rows, fault } = this.section;
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
        ${fileRead ? 'They are kept in' : 'To keep others, write them into'} <code>${file}</code> and start the service anew.
        <code>taptrue settings --schema</code> prints what may stand in it; the command line and the environment are stronger.
      </p>
    </details>`;
  }
}
