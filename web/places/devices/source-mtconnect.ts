import type { LinkName } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { textField } from './source-fields.ts';
import { agentConfigOf, firstAgent, type TypedAgent } from './view/agent-source.ts';

const WAYS = [
  { value: 'stream', label: 'sent as they change' },
  { value: 'poll', label: 'asked for again and again' },
] as const;

/** Positions of the machine itself, from its MTConnect agent on the network. */
@customElement('source-mtconnect')
export class SourceMtconnect extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) link: LinkName = 'readout';
  @state() private typed: TypedAgent = firstAgent();
  @state() private why = '';

  override render() {
    const off = !this.screen.mayCommand;
    const { place, item, machine, second, way, everyMs } = this.typed;
    const box = (
      name: keyof TypedAgent,
      label: string,
      value: string,
      more: { note?: string; placeholder?: string; numeric?: boolean } = {},
    ) =>
      textField({
        name,
        label,
        value,
        off,
        take: (text) => this.change({ [name]: text }),
        ...more,
      });
    return html`
      <div class="setup-grid">
        ${box('place', "Address of the machine's agent", place, {
          placeholder: '192.168.1.30',
          note: 'Port number 5000 unless typed behind a colon. With https:// before it where the agent wants that.',
        })}
        ${box('item', 'Axis that is swept', item, {
          note: 'Its name, or the id of a data item. Millimetres, whatever the machine shows.',
        })}
      </div>
      <details class="fine-settings">
        <summary>Machine, second axis, times</summary>
        <div class="setup-grid">
          ${box('machine', 'Machine, where the agent has several', machine)}
          ${box('second', 'Second axis', second, { note: 'Empty: none. Y, so that a nudge of the saddle is noticed.' })}
          ${choiceRow('Values are', WAYS, way, off, (value) => this.change({ way: value }))}
          ${box('everyMs', 'At most every, ms', everyMs, { numeric: true })}
        </div>
      </details>
      ${this.why ? html`<p class="field-why" role="alert">${this.why}</p>` : nothing}
      <div class="acts">
        <button type="button" class="act" ?disabled=${off} @click=${this.connect}>
          Take positions from this agent
        </button>
      </div>
    `;
  }

  private change(change: Partial<TypedAgent>): void {
    this.typed = { ...this.typed, ...change };
    this.why = '';
  }

  private readonly connect = (): void => {
    const config = agentConfigOf(this.typed);
    this.why = config.ok ? '' : config.why;
    if (config.ok)
      void this.handle.command({ kind: 'connect', link: this.link, config: config.value });
  };
}
