import type { ProofNames, ProofQuery } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { dayStart } from './local-time.ts';

const ENDED = [
  ['', 'any way'],
  ['true', 'true'],
  ['not true', 'not true'],
  ['too close to call', 'too close to call'],
  ['none', 'no line'],
] as const;

/** A question is asked when the typing rests this long. */
const RESTS_MS = 250;

/** What to look for. Fires `asked` with the whole question. */
@customElement('proof-filters')
export class ProofFilters extends PlainElement {
  @property({ attribute: false }) query: ProofQuery = {};
  @property({ attribute: false }) names: ProofNames = { machines: [], operators: [] };
  /** Days as they stand in their fields; the question has the moments they begin and end. */
  @state() private fromDay = '';
  @state() private toDay = '';
  private typing: ReturnType<typeof setTimeout> | undefined;

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.typing);
  }

  override render() {
    const { query, names } = this;
    const isAsked = Object.keys(query).length > 0;
    return html`<form class="proof-part proof-filters" role="search" @submit=${(event: Event) => event.preventDefault()}>
      ${this.field('proof-text', 'Words', query.text ?? '', (text) => this.askSoon({ text }), 'part, note, tag')}
      ${this.field('proof-number', 'Job number', query.number ?? '', (number) => this.askSoon({ number }), 'bench’s or shop’s')}
      ${this.choice('proof-ended', 'Ended', ENDED, query.verdict ?? '', (verdict) => this.ask({ verdict: verdict as NonNullable<ProofQuery['verdict']> }))}
      ${this.choice('proof-machine', 'Machine and vise', withAny(names.machines), query.machine ?? '', (machine) => this.ask({ machine }))}
      ${this.choice('proof-operator', 'Operator', withAny(names.operators), query.operator ?? '', (operator) => this.ask({ operator }))}
      ${this.day('proof-from', 'From', this.fromDay, (day) => {
        this.fromDay = day;
        this.ask({ from: dayStart(day) ?? '' });
      })}
      ${this.day('proof-to', 'To', this.toDay, (day) => {
        this.toDay = day;
        this.ask({ to: dayStart(day, 1) ?? '' });
      })}
      ${isAsked ? html`<button type="button" class="act" @click=${this.clear}>Show all</button>` : nothing}
    </form>`;
  }

  private field(
    id: string,
    label: string,
    value: string,
    take: (text: string) => void,
    placeholder: string,
  ) {
    return html`<div>
      <label for=${id}>${label}</label>
      <input
        id=${id}
        autocomplete="off"
        spellcheck="false"
        maxlength="120"
        placeholder=${placeholder}
        .value=${live(value)}
        @input=${(event: Event) => take((event.target as HTMLInputElement).value)}
      />
    </div>`;
  }

  private day(id: string, label: string, value: string, take: (day: string) => void) {
    return html`<div>
      <label for=${id}>${label}</label>
      <input
        id=${id}
        type="date"
        .value=${live(value)}
        @change=${(event: Event) => take((event.target as HTMLInputElement).value)}
      />
    </div>`;
  }

  private choice(
    id: string,
    label: string,
    choices: readonly (readonly [string, string])[],
    chosen: string,
    take: (value: string) => void,
  ) {
    return html`<div>
      <label for=${id}>${label}</label>
      <select id=${id} @change=${(event: Event) => take((event.target as HTMLSelectElement).value)}>
        ${choices.map(([value, words]) => html`<option value=${value} ?selected=${value === chosen}>${words}</option>`)}
      </select>
    </div>`;
  }

  private readonly clear = (): void => {
    this.fromDay = '';
    this.toDay = '';
    this.query = {};
    this.dispatchEvent(new CustomEvent('asked', { detail: {} }));
  };

  private askSoon(change: { [K in keyof ProofQuery]?: string }): void {
    this.merge(change);
    clearTimeout(this.typing);
    this.typing = setTimeout(() => this.tell(), RESTS_MS);
  }

  private ask(change: { [K in keyof ProofQuery]?: string }): void {
    this.merge(change);
    this.tell();
  }

  private merge(change: { [K in keyof ProofQuery]?: string }): void {
    const all = Object.entries({ ...this.query, ...change }).filter(([, value]) => value !== '');
    this.query = Object.fromEntries(all) as ProofQuery;
  }

  private tell(): void {
    this.dispatchEvent(new CustomEvent('asked', { detail: this.query }));
  }
}

function withAny(names: readonly string[]): [string, string][] {
  return [['', 'any'], ...names.map((name): [string, string] => [name, name])];
}
