import type { TaughtLine, TeachAnswer, TeachQuestion } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { cellText } from './view/captured-text.ts';
import { WHOLE_LINE_CHOICES } from './view/teach-words.ts';

/** More are folded away while all is well with them. */
const ALWAYS_SHOWN = 4;

type Told = Pick<TeachQuestion, 'screenSaid' | 'wholeLines'>;

/** Every captured line with what it would read, and what the device's own screen showed. Fires `told`. */
@customElement('teach-lines')
export class TeachLines extends PlainElement {
  @property({ attribute: false }) answer!: TeachAnswer;
  @property({ attribute: false }) told!: Told;
  @property({ attribute: false }) off = false;

  override render() {
    const rows = this.answer.lines.map((line, index) => ({ line, index }));
    const first = rows.filter(({ line, index }) => index < ALWAYS_SHOWN || line.why !== '');
    const rest = rows.filter((row) => !first.includes(row));
    return html`${this.renderList(first)}
      ${
        rest.length === 0
          ? nothing
          : html`<details>
              <summary>And ${rest.length} more, all understood</summary>
              ${this.renderList(rest)}
            </details>`
      }`;
  }

  private renderList(rows: readonly { line: TaughtLine; index: number }[]) {
    return html`<ul class="taught" aria-label="What each line would read">
      ${rows.map(({ line, index }) => this.renderLine(line, index))}
    </ul>`;
  }

  private renderLine(line: TaughtLine, index: number) {
    const whole = this.told.wholeLines.find(({ text }) => text === line.text);
    return html`<li>
      <code>${shown(line.text, line.at)}</code>
      <p class="taught-reads">${line.reads === '' ? '' : `reads ${line.reads}`}</p>
      ${line.reads === '' || whole ? this.renderWhole(line, whole?.means) : this.renderSaid(index)}
      ${line.why === '' ? nothing : html`<p class="field-why">${line.why}</p>`}
    </li>`;
  }

  private renderSaid(index: number) {
    return html`<label class="stacked">its screen said
      <input
        autocomplete="off"
        maxlength="24"
        placeholder="not needed"
        .value=${this.told.screenSaid[index] ?? ''}
        ?disabled=${this.off}
        @change=${(event: Event) => this.say(index, (event.target as HTMLInputElement).value)}
      />
    </label>`;
  }

  private renderWhole(line: TaughtLine, means: string | undefined) {
    return html`<label class="stacked">this whole line is
      <select
        ?disabled=${this.off}
        @change=${(event: Event) => this.call(line.text, (event.target as HTMLSelectElement).value)}
      >
        <option value="" ?selected=${means === undefined}>a reading like the others</option>
        ${WHOLE_LINE_CHOICES.map(
          (choice) =>
            html`<option value=${choice} ?selected=${choice === means}>${choice}</option>`,
        )}
      </select>
    </label>`;
  }

  private say(index: number, text: string): void {
    const screenSaid = this.answer.lines.map((_, at) => this.told.screenSaid[at] ?? '');
    screenSaid[index] = text;
    this.tell({ screenSaid });
  }

  private call(text: string, means: string): void {
    const others = this.told.wholeLines.filter((line) => line.text !== text);
    const chosen = WHOLE_LINE_CHOICES.find((choice) => choice === means);
    this.tell({ wholeLines: chosen === undefined ? others : [...others, { text, means: chosen }] });
  }

  private tell(change: Partial<Told>): void {
    this.dispatchEvent(new CustomEvent<Partial<Told>>('told', { detail: change }));
  }
}

/** The line with the place where it fails marked. */
function shown(text: string, at: number | null) {
  const cells = [...text].map((character) => (character === ' ' ? ' ' : cellText(character)));
  if (at === null) return cells.join('');
  return html`${cells.slice(0, at).join('')}<mark>${cells[at] ?? 'end'}</mark>${cells.slice(at + 1).join('')}`;
}
