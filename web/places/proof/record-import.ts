import { faultLine } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { sendRecording } from '../../connection/send-recording.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { importedWords } from './view/record-words.ts';

/** Recordings from elsewhere, and how to keep a copy of everything. Fires `written`. */
@customElement('record-import')
export class RecordImport extends PlainElement {
  @property({ attribute: false }) screen!: Screen;
  @state() private isSending = false;
  @state() private said: string[] = [];
  @query('input[type=file]') private chooser!: HTMLInputElement | null;

  override render() {
    const off = !this.screen.mayCommand || this.isSending;
    return html`<section class="proof-part" aria-label="From elsewhere">
      <div class="acts">
        <button type="button" class="act" ?disabled=${off} title=${this.screen.mayCommand ? nothing : this.screen.whyNot} @click=${() => this.chooser?.click()}>
          ${this.isSending ? 'Being checked and taken in' : 'Add a recording from a file'}
        </button>
        <input type="file" accept=".jsonl" multiple hidden @change=${this.take} />
      </div>
      ${this.said.length === 0 ? nothing : html`<ul role="status">${this.said.map((sentence) => html`<li>${sentence}</li>`)}</ul>`}
      <p class="field-note">A copy of everything is made with <code>npx taptrue backup FILE</code>, also while the bench runs.</p>
    </section>`;
  }

  private readonly take = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const files = [...(input.files ?? [])];
    input.value = '';
    this.said = [];
    this.isSending = files.length > 0;
    for (const file of files) {
      const sent = await sendRecording(file);
      const sentences = sent.ok ? sent.imported.map(importedWords) : [faultLine(sent.fault)];
      this.said = [...this.said, ...sentences.map((sentence) => `${file.name}: ${sentence}`)];
    }
    this.isSending = false;
    this.dispatchEvent(new CustomEvent('written', { bubbles: true }));
  };
}
