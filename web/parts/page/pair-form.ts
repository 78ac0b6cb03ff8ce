import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';

/** A watching screen asks to command: the code from the bench screen, and a name to know the tablet by. */
@customElement('pair-form')
export class PairForm extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @state() private refusal = '';
  @state() private asking = false;

  override render() {
    return html`<details class="pair">
      <summary>This screen only watches. Pair this tablet to command the bench</summary>
      <form @submit=${this.ask} aria-label="Pair this tablet">
        <p>Type the code that the bench screen shows on its Devices place.</p>
        <label>Code <input name="code" class="code" autocomplete="off" spellcheck="false" maxlength="12" required /></label>
        <label>Name of this tablet <input name="name" autocomplete="off" maxlength="40" value="tablet at the handwheel" required /></label>
        <button type="submit" class="act" ?disabled=${this.asking}>Pair this tablet</button>
        ${this.refusal ? html`<p class="field-why" role="alert">${this.refusal}</p>` : nothing}
      </form>
    </details>`;
  }

  private readonly ask = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const data = new FormData(event.target as HTMLFormElement);
    this.asking = true;
    const answer = await this.handle.pair(
      String(data.get('code')).trim(),
      String(data.get('name')).trim(),
    );
    this.asking = false;
    this.refusal = answer.ok ? '' : `${answer.fault.what} ${answer.fault.remedy}`;
  };
}
