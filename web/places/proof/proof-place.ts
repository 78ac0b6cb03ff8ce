import { html } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import './proof-compare.ts';
import './proof-job.ts';
import type { ProofList } from './proof-list.ts';
import './proof-list.ts';
import './proof-vise.ts';
import './record-import.ts';

/** What is kept: the list, a job opened, sweeps laid over each other, what the vise taught. */
@customElement('proof-place')
export class ProofPlace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private path: readonly string[] = pathOfAddress();

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('hashchange', this.onAddress);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    removeEventListener('hashchange', this.onAddress);
  }

  override render() {
    const [what, which = ''] = this.path;
    return html`
      ${what === undefined ? '' : html`<p class="proof-back"><a class="act" href="#proof">Back to the list</a></p>`}
      ${this.renderPart(what, which)}
      ${what === undefined ? html`<record-import .screen=${this.screen} @written=${this.listAnew}></record-import>` : ''}
      <p class="field-note proof-where">${this.whereWords()}</p>
    `;
  }

  private renderPart(what: string | undefined, which: string) {
    const { handle, screen } = this;
    if (what === 'job')
      return html`<proof-job .handle=${handle} .screen=${screen} .job=${which}></proof-job>`;
    if (what === 'compare')
      return html`<proof-compare
        .handle=${handle}
        .screen=${screen}
        .sweeps=${which}
      ></proof-compare>`;
    if (what === 'vise') return html`<proof-vise .screen=${screen}></proof-vise>`;
    return html`<proof-list
      .handle=${handle}
      .screen=${screen}
      .bin=${what === 'bin'}
    ></proof-list>`;
  }

  private whereWords() {
    const { recordFile } = this.screen.state.bench;
    if (recordFile === null) return 'Nothing is being kept: see what is wrong above.';
    return html`All of it lies in <code>${recordFile}</code> on the bench’s computer.`;
  }

  private readonly listAnew = (): void => {
    void this.querySelector<ProofList>('proof-list')?.look();
  };

  private readonly onAddress = (): void => {
    this.path = pathOfAddress();
  };
}

/** `#proof/job/KEY` to `['job', 'KEY']`; nothing behind the place: the list. */
function pathOfAddress(): readonly string[] {
  return decodeURIComponent(location.hash.slice(1))
    .split('/')
    .slice(1)
    .filter((part) => part !== '');
}
