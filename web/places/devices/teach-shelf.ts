import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { ShapeChoice } from '../../connection/fetch-lists.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';

/** Larger is no line shape; the service says the same. */
const LARGEST_FILE = 65_536;

/** The shop's own line shapes: taken out as files, brought in from files, removed. Fires `shapes-changed`. */
@customElement('teach-shelf')
export class TeachShelf extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) shapes: readonly ShapeChoice[] = [];
  @property({ attribute: false }) off = false;
  @state() private asksRemove = '';
  @state() private word = '';
  @state() private taken: string | null = null;

  override render() {
    const own = this.shapes.filter((shape) => shape.own === true);
    return html`
      ${own.length === 0 ? html`<p>None yet. Those that ship are in the list of each device.</p>` : nothing}
      <ul class="taught">
        ${own.map(
          ({ name, title, example }) => html`<li>
            <strong>${title}</strong>
            <code>${(example ?? '').trim()}</code>
            <div class="acts">
              <a class="act" href="/api/shapes/${name}" download="${name}.taptrue-shape.json">Save as a file</a>
              <button
                type="button"
                class="act ${this.asksRemove === name ? 'act-sure' : ''}"
                ?disabled=${this.off}
                @click=${() => void this.takeAway(name)}
                @blur=${() => {
                  this.asksRemove = '';
                }}
              >${this.asksRemove === name ? 'Really remove it' : 'Remove'}</button>
            </div>
          </li>`,
        )}
      </ul>
      <label class="stacked">Bring one in from a file
        <input type="file" accept=".json,application/json" ?disabled=${this.off} @change=${(event: Event) => void this.bringIn(event)} />
      </label>
      ${this.word ? html`<p role="status">${this.word}</p>` : nothing}
      ${
        this.taken === null
          ? nothing
          : html`<button type="button" class="act" ?disabled=${this.off} @click=${() => void this.send(this.taken ?? '', true)}>
              Put it in the place of the old one
            </button>`
      }
    `;
  }

  private async takeAway(name: string): Promise<void> {
    if (this.asksRemove !== name) {
      this.asksRemove = name;
      return;
    }
    this.asksRemove = '';
    const answer = await this.handle.command({ kind: 'remove shape', name });
    if (answer.ok) this.changed(answer.note);
  }

  private async bringIn(event: Event): Promise<void> {
    const input = event.target as HTMLInputElement;
    const [file] = input.files ?? [];
    if (file === undefined) return;
    input.value = '';
    if (file.size > LARGEST_FILE) {
      this.word = `${file.name} is larger than any line shape. Nothing was brought in.`;
      return;
    }
    await this.send(await file.text(), false);
  }

  private async send(text: string, over: boolean): Promise<void> {
    const answer = await this.handle.command({ kind: 'import shape', text, over });
    this.taken = !answer.ok && answer.fault.code === 'shape-name-taken' && !over ? text : null;
    if (answer.ok) this.changed(answer.note);
    else this.word = `${answer.fault.what} ${answer.fault.remedy}`;
  }

  private changed(note: string): void {
    this.word = note;
    this.dispatchEvent(new CustomEvent('shapes-changed', { bubbles: true }));
  }
}
