import type { Mark, SpanMeaning, TeachAnswer, TeachQuestion } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { BIT_CHOICES, MEANS_WORD, TEXT_CHOICES } from './view/teach-words.ts';

type Change = Partial<TeachQuestion>;

/** What the marks leave open: what a code means, the point, the unit, when the device sends. Fires `told`. */
@customElement('teach-details')
export class TeachDetails extends PlainElement {
  @property({ attribute: false }) question!: TeachQuestion;
  @property({ attribute: false }) answer!: TeachAnswer;
  @property({ attribute: false }) off = false;

  override render() {
    const { question, answer } = this;
    const has = (means: SpanMeaning) => answer.marks.some((mark) => mark.means === means);
    return html`
      <div class="setup-grid">
        ${answer.texts.filter(({ span }) => TEXT_CHOICES[span]).map((text) => this.renderText(text))}
        ${answer.marks.filter(({ means }) => means === 'flags').map((mark) => this.renderFlags(mark))}
        ${question.form === 'bytes' ? this.renderBytes() : this.renderRecord()}
      </div>
      ${
        has('unit') || has('flags')
          ? nothing
          : choiceRow(
              'The lines carry no unit: its display counts in',
              [
                { value: 'mm', label: 'millimetres' },
                { value: 'in', label: 'inches' },
                { value: null, label: 'either; asked when it is connected' },
              ] as const,
              question.unit,
              this.off,
              (unit) => this.tell({ unit }),
            )
      }
      ${choiceRow(
        'The device sends',
        [
          { value: 'streams', label: 'by itself' },
          { value: 'its own key', label: 'when its key is pressed' },
          { value: 'asked', label: 'when asked' },
        ] as const,
        question.trigger,
        this.off,
        (trigger) => this.tell({ trigger }),
      )}
      ${
        question.trigger === 'asked'
          ? html`<label class="stacked">It is asked with (\\r is Enter)
              <input autocomplete="off" maxlength="20" .value=${escaped(question.request ?? '')} ?disabled=${this.off}
                @change=${(event: Event) => {
                  const text = unescaped((event.target as HTMLInputElement).value);
                  this.tell({ request: text === '' ? null : text.slice(0, 16) });
                }} />
            </label>`
          : nothing
      }
    `;
  }

  private renderText({ span, text, means }: TeachAnswer['texts'][number]) {
    return html`<label class="stacked">“${text}” as ${MEANS_WORD[span]} means
      <select ?disabled=${this.off} @change=${(event: Event) => {
        const chosen = (event.target as HTMLSelectElement).value;
        const others = this.question.meanings.filter(
          (one) => one.span !== span || one.text !== text,
        );
        this.tell({
          meanings: chosen === '' ? others : [...others, { span, text, means: chosen }],
        });
      }}>
        <option value="" ?selected=${means === null}>not known yet</option>
        ${(TEXT_CHOICES[span] ?? []).map(
          (choice) =>
            html`<option value=${choice} ?selected=${choice === means}>${choice}${span === 'point' ? ' decimals' : ''}</option>`,
        )}
      </select>
    </label>`;
  }

  private renderFlags(mark: Mark) {
    const count = 4 * (mark.to - mark.from);
    return Array.from({ length: Math.min(8, count) }, (_, bit) => {
      const set = mark.bits?.find((one) => one.bit === bit)?.set;
      return html`<label class="stacked">Flag bit ${bit}, when it is set
        <select ?disabled=${this.off} @change=${(event: Event) => {
          const chosen = BIT_CHOICES.find(
            (one) => one === (event.target as HTMLSelectElement).value,
          );
          const others = (mark.bits ?? []).filter((one) => one.bit !== bit);
          const bits = chosen === undefined ? others : [...others, { bit, set: chosen }];
          this.tell({
            marks: this.answer.marks.map((one) => (one === mark ? { ...mark, bits } : one)),
          });
        }}>
          <option value="" ?selected=${set === undefined}>is never set</option>
          ${BIT_CHOICES.map((choice) => html`<option value=${choice} ?selected=${choice === set}>${choice}</option>`)}
        </select>
      </label>`;
    });
  }

  private renderBytes() {
    const { number, frameBytes } = this.question;
    return html`
      ${choiceRow(
        'The number is',
        [
          { value: 'digits', label: 'decimal digits' },
          { value: 'count', label: 'a binary count' },
        ] as const,
        number.kind,
        this.off,
        (kind) => this.tell({ number: { ...number, kind } }),
      )}
      ${choiceRow(
        'Sent first is',
        [
          { value: false, label: 'its highest place' },
          { value: true, label: 'its lowest place' },
        ] as const,
        number.lowestFirst,
        this.off,
        (lowestFirst) => this.tell({ number: { ...number, lowestFirst } }),
      )}
      <label class="stacked">Bytes of one frame, empty to guess${this.answer.frameBytes === null ? '' : ` (${this.answer.frameBytes})`}
        <input inputmode="numeric" autocomplete="off" maxlength="2" .value=${frameBytes === null ? '' : String(frameBytes)} ?disabled=${this.off}
          @change=${(event: Event) => {
            const count = Number((event.target as HTMLInputElement).value);
            this.tell({
              frameBytes: Number.isInteger(count) && count > 2 && count < 66 ? count : null,
              marks: null,
            });
          }} />
      </label>`;
  }

  private renderRecord() {
    return html`<label class="stacked">One reading takes
      <select ?disabled=${this.off} @change=${(event: Event) =>
        this.tell({ recordLines: Number((event.target as HTMLSelectElement).value), marks: null })}>
        ${[1, 2, 3, 4].map((count) => html`<option value=${count} ?selected=${count === this.question.recordLines}>${count} ${count === 1 ? 'line' : 'lines'}</option>`)}
      </select>
    </label>`;
  }

  private tell(change: Change): void {
    this.dispatchEvent(new CustomEvent<Change>('told', { detail: change }));
  }
}

function escaped(text: string): string {
  return text.replaceAll('\r', '\\r').replaceAll('\n', '\\n');
}

function unescaped(text: string): string {
  return text.replaceAll('\\r', '\r').replaceAll('\\n', '\n');
}
