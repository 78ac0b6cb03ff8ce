import type { LinkConfig, LinkName } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { ShapeChoice } from '../../connection/fetch-lists.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { searchGoesOn } from './search-goes-on.ts';
import { portUseWords } from './view/line-words.ts';
import { FRAMINGS, type Framing, linkConfigOf } from './view/link-source-text.ts';

const UNITS = [
  { value: 'as sent', label: 'as sent' },
  { value: 'in', label: 'inches' },
  { value: 'mm', label: 'millimetres' },
] as const;

/** One device by hand: which port, what its lines look like. */
@customElement('link-connect')
export class LinkConnect extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) link: LinkName = 'indicator';
  @property({ attribute: false }) shapes: readonly ShapeChoice[] = [];
  @state() private source = '';
  @state() private shape = '';
  @state() private unit: LinkConfig['unit'] = 'as sent';
  @state() private channel = '';
  @state() private second = '';
  @state() private baud = '';
  @state() private framing: Framing | '' = '';
  @state() private why = '';

  override render() {
    const off = !this.screen.mayCommand;
    return html`
      ${this.renderPorts(off)}
      <div class="setup-grid">
        <label class="stacked wide">Port, or address:port on the network
          <input
            name="source"
            autocomplete="off"
            spellcheck="false"
            maxlength="256"
            .value=${this.source}
            placeholder="chosen above or typed"
            ?disabled=${off}
            @input=${this.typed((text) => {
              this.source = text;
            })}
          />
        </label>
        ${this.renderShapes(off)}
      </div>
      <details class="fine-settings">
        <summary>Unit, channel, speed</summary>
        <div class="setup-grid">${this.renderFine(off)}</div>
      </details>
      ${this.why ? html`<p class="field-why" role="alert">${this.why}</p>` : nothing}
      ${searchGoesOn(this.screen, this.handle)}
      <div class="acts">
        <button type="button" class="act" ?disabled=${off} @click=${this.connect}>
          Connect the ${this.link}
        </button>
      </div>
    `;
  }

  private renderPorts(off: boolean) {
    // What cannot be opened is still to be chosen, but it is not what one looks for.
    const ports = [...this.screen.state.ports.ports].sort(
      (one, other) => Number(one.hindrance !== null) - Number(other.hindrance !== null),
    );
    if (ports.length === 0) return nothing;
    return html`<div class="ports" role="group" aria-label="Ports of this computer">
      ${ports.map(
        (port) => html`<button
          type="button"
          class="choice port"
          aria-pressed=${this.source === port.path}
          ?disabled=${off}
          @click=${() => {
            this.source = port.path;
          }}
        ><strong>${port.path}</strong> <span>${port.title}</span>
        ${port.usedBy === null && port.hindrance === null ? nothing : html`<small>${portUseWords(port)}</small>`}</button>`,
      )}
    </div>`;
  }

  private renderShapes(off: boolean) {
    const chosen = this.chosenShape();
    return html`<label class="stacked wide">What its lines look like
      <select
        name="shape"
        ?disabled=${off}
        @change=${this.typed((text) => {
          this.shape = text;
        })}
      >
        ${this.shapes.map(
          ({ name, title }) =>
            html`<option value=${name} ?selected=${name === chosen}>${title}</option>`,
        )}
      </select>
    </label>`;
  }

  private renderFine(off: boolean) {
    return html`
      ${choiceRow('Unit where the line has none', UNITS, this.unit, off, (unit) => {
        this.unit = unit;
      })}
      <label class="stacked">Channel or axis, empty for the first seen
        <input name="channel" autocomplete="off" maxlength="8" .value=${this.channel} ?disabled=${off} @input=${this.typed(
          (text) => {
            this.channel = text;
          },
        )} />
      </label>
      ${
        this.link === 'readout'
          ? html`<label class="stacked">The other axis, to notice that it moves; empty: not listened to
              <input name="second" autocomplete="off" maxlength="8" .value=${this.second} ?disabled=${off} @input=${this.typed(
                (text) => {
                  this.second = text;
                },
              )} />
            </label>`
          : nothing
      }
      <label class="stacked">Speed (baud), empty as the lines usually have it
        <input name="baud" inputmode="numeric" autocomplete="off" maxlength="7" .value=${this.baud} ?disabled=${off} @input=${this.typed(
          (text) => {
            this.baud = text;
          },
        )} />
      </label>
      ${choiceRow(
        'Data bits, parity, stop bits',
        [
          { value: '', label: 'as usual' },
          ...FRAMINGS.map((framing) => ({ value: framing, label: framing })),
        ],
        this.framing,
        off,
        (framing) => {
          this.framing = framing as Framing | '';
        },
      )}
    `;
  }

  /** The shape chosen here, else the one in use, else the first of the list. */
  private chosenShape(): string {
    const inUse = this.screen.state.links[this.link].config?.shape;
    return this.shape || inUse || this.shapes[0]?.name || '';
  }

  private typed(take: (text: string) => void) {
    return (event: Event) => take((event.target as HTMLInputElement | HTMLSelectElement).value);
  }

  private readonly connect = (): void => {
    const config = linkConfigOf({
      source: this.source,
      shape: this.chosenShape(),
      unit: this.unit,
      channel: this.channel,
      secondChannel: this.link === 'readout' ? this.second : '',
      baud: this.baud,
      framing: this.framing,
    });
    this.why = config.ok ? '' : config.why;
    if (config.ok)
      void this.handle.command({ kind: 'connect', link: this.link, config: config.value });
  };
}
