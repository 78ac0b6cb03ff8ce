import type { Caution, SignerRole } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { SIGNER_ROLES } from './view/record-words.ts';

/** Signing the job that is going on: what was minded is ticked, a name is written, and it is kept. */
@customElement('record-sign')
export class RecordSign extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private isOpen = false;
  /** null: the operator on the card, until something else is typed. */
  @state() private who: string | null = null;
  @state() private signsAs: SignerRole = 'set by';
  @state() private ticked: ReadonlySet<string> = new Set();

  override render() {
    if (!this.isOpen)
      return html`<div class="acts">
          <button type="button" class="act" ?disabled=${!this.screen.mayCommand || this.lacksSweep} @click=${this.open}>Sign this job</button>
        </div>
        ${this.lacksSweep ? html`<p class="field-note">It can be signed once a sweep says how the vise lies now.</p>` : nothing}`;
    return html`<form class="record-sign" aria-label="Sign this job" @submit=${this.submit}>
      ${this.cautions.map(
        ({ code, text }) => html`<label class="tick">
          <input type="checkbox" .checked=${live(this.ticked.has(code))} @change=${(event: Event) => this.tick(code, event)} />
          <span>${text}</span>
        </label>`,
      )}
      <div class="amount">
        <div>
          <label for="sign-who">Who signs</label>
          <input id="sign-who" autocomplete="off" maxlength="120" placeholder="full name" .value=${live(this.name)} @input=${(
            event: Event,
          ) => {
            this.who = (event.target as HTMLInputElement).value;
          }} />
        </div>
        <div>
          <label for="sign-role">As</label>
          <select id="sign-role" @change=${(event: Event) => {
            this.signsAs = (event.target as HTMLSelectElement).value as SignerRole;
          }}>
            ${SIGNER_ROLES.map(({ role, label }) => html`<option value=${role} ?selected=${role === this.signsAs}>${label}</option>`)}
          </select>
        </div>
        <button type="submit" class="act" ?disabled=${!this.screen.mayCommand || this.name.trim() === ''}>Sign</button>
        <button type="button" class="act" @click=${() => {
          this.isOpen = false;
        }}>Not now</button>
      </div>
      <p class="field-note">What is not ticked is printed as not ticked. A signed job cannot be emptied from the bin.</p>
    </form>`;
  }

  private get name(): string {
    return this.who ?? this.screen.state.card.operator;
  }

  private get lacksSweep(): boolean {
    const { sweep } = this.screen.state;
    return sweep?.state !== 'ended' || sweep.result === null || sweep.outdated !== '';
  }

  private get cautions(): Caution[] {
    const { bench, sweep } = this.screen.state;
    const all = [...bench.cautions, ...(sweep?.result?.cautions ?? [])];
    return all.filter(({ code }, at) => all.findIndex((other) => other.code === code) === at);
  }

  private tick(code: string, event: Event): void {
    const { checked } = event.target as HTMLInputElement;
    const others = [...this.ticked].filter((one) => one !== code);
    this.ticked = new Set(checked ? [...others, code] : others);
  }

  private readonly open = (): void => {
    this.isOpen = true;
    this.ticked = new Set();
  };

  private readonly submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const answer = await this.handle.command({
      kind: 'sign record',
      who: this.name,
      role: this.signsAs,
      ticked: [...this.ticked],
    });
    if (!answer.ok) return;
    this.isOpen = false;
    this.dispatchEvent(new CustomEvent('written', { bubbles: true }));
  };
}
