import type { LinkName, TeachQuestion } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fetchBytes } from '../../connection/post-teaching.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { fromHex, fromPasted } from './view/captured-text.ts';

export type Captured = Pick<TeachQuestion, 'captured' | 'fromPort' | 'form'>;

/** The service looks at no more. */
const MOST_CAPTURED = 4096;

/** Where the lines come from: an open device, or pasted. Fires `captured`. */
@customElement('teach-capture')
export class TeachCapture extends PlainElement {
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) off = false;
  @state() private form: TeachQuestion['form'] = 'lines';
  @state() private pasted = '';
  @state() private why = '';
  private taken: Captured | null = null;

  /** Shows what was taken elsewhere, without telling of it. */
  shows(taken: Captured): void {
    this.taken = taken;
    this.form = taken.form;
    this.pasted = '';
    this.why = '';
  }

  override render() {
    const open = (['indicator', 'readout'] as const).filter(
      (link) => this.screen.state.links[link].state !== 'not set',
    );
    return html`
      ${choiceRow(
        'What the device sends',
        [
          { value: 'lines', label: 'lines of text' },
          { value: 'bytes', label: 'bytes without line ends' },
        ] as const,
        this.form,
        this.off,
        (form) => {
          this.form = form;
          if (this.taken?.fromPort) this.give({ ...this.taken, form });
          else if (this.pasted !== '') this.paste(this.pasted);
        },
      )}
      <div class="acts">
        ${open.map(
          (
            link,
          ) => html`<button type="button" class="act" ?disabled=${this.off} @click=${() => void this.capture(link)}>
            Take the last lines of the ${link}
          </button>`,
        )}
      </div>
      ${
        open.length === 0 && this.taken === null
          ? html`<p class="field-note">To take lines from a device, connect it above first; any line shape will do. Or paste them.</p>`
          : nothing
      }
      <label class="stacked">Or paste three lines or more${this.form === 'bytes' ? ', as pairs of hexadecimal digits' : ''}
        <textarea
          spellcheck="false"
          autocomplete="off"
          maxlength="16384"
          .value=${this.pasted}
          ?disabled=${this.off}
          @input=${(event: Event) => this.paste((event.target as HTMLTextAreaElement).value)}
        ></textarea>
      </label>
      ${this.why ? html`<p class="field-why" role="alert">${this.why}</p>` : nothing}
    `;
  }

  private async capture(link: LinkName): Promise<void> {
    const bytes = await fetchBytes(link);
    if (!bytes.ok) this.why = `The lines could not be taken: ${bytes.why}.`;
    else if (bytes.value === '')
      this.why = `Nothing has come from the ${link} yet. Switch it on, press its key, or check the lead.`;
    else {
      this.pasted = '';
      this.give({ captured: bytes.value, fromPort: true, form: this.form });
    }
  }

  private paste(text: string): void {
    this.pasted = text;
    const bytes = this.form === 'bytes' ? fromHex(text) : fromPasted(text);
    if (bytes === null) {
      this.taken = null;
      this.why = 'These are not pairs of hexadecimal digits, such as A5 34 12 00.';
    } else this.give({ captured: bytes, fromPort: false, form: this.form });
  }

  private give(taken: Captured): void {
    const wide = [...taken.captured].find((character) => character.charCodeAt(0) > 0xff);
    this.why = wide === undefined ? '' : `"${wide}" is no byte that a device sends.`;
    if (wide !== undefined) return;
    this.taken = taken;
    const captured = taken.fromPort
      ? taken.captured.slice(-MOST_CAPTURED)
      : taken.captured.slice(0, MOST_CAPTURED);
    this.dispatchEvent(new CustomEvent<Captured>('captured', { detail: { ...taken, captured } }));
  }
}
