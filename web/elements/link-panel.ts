import type {
  LinkConfig,
  LinkCounters,
  LinkName,
  LinkReport,
  PortDescription,
} from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { ShapeChoice } from '../connection/fetch-lists.ts';
import type { Screen } from '../state/latest-state.ts';
import { linkConfigOf } from '../view/link-source-text.ts';
import { readingText } from '../view/reading-standing.ts';
import { LINK_WORDS } from '../view/words.ts';
import { actButton } from './act-button.ts';
import type { BenchHandle } from './bench-handle.ts';
import { choiceRow } from './choice-row.ts';
import { PlainElement } from './plain-element.ts';
import { LINK_SHAPES } from './standing-shapes.ts';

const COUNTER_WORDS: Readonly<Record<keyof LinkCounters, string>> = {
  bytes: 'bytes',
  frames: 'readings understood',
  framesNotUnderstood: 'lines not understood',
  framesTooLong: 'lines too long',
  partialFramesDropped: 'part lines dropped',
  reconnects: 'connected again',
  otherChannel: 'of another channel',
  unitRefused: 'wrong unit, refused',
  unanswered: 'asked in vain',
  saidNo: 'refused by the device',
  resyncs: 'taken up again after a gap',
};

/** One device: where its bytes come from, what they look like, and what has come so far. */
@customElement('link-panel')
export class LinkPanel extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) link: LinkName = 'indicator';
  @property({ attribute: false }) ports: readonly PortDescription[] = [];
  @property({ attribute: false }) shapes: readonly ShapeChoice[] = [];
  @state() private source = '';
  @state() private shape = '';
  @state() private unit: LinkConfig['unit'] = 'as sent';
  @state() private channel = '';
  @state() private why = '';

  override render() {
    const report = this.screen.state.links[this.link];
    const off = !this.screen.mayCommand;
    const shape = this.chosenShape();
    return html`<section class="link" aria-label=${this.link}>
      <h2>
        <svg viewBox="0 0 24 24" aria-hidden="true">${svg`<path d=${LINK_SHAPES[report.state]}></path>`}</svg>
        ${this.link}: ${LINK_WORDS[report.state]}
        ${report.simulated ? html`<em class="simulated-word">SIMULATED</em>` : nothing}
      </h2>
      ${report.fault === null || this.isStanding(report.fault.code) ? nothing : html`<p class="warning"><strong>${report.fault.what}</strong> ${report.fault.got ? html`Got: <q>${report.fault.got}</q>.` : nothing} ${report.fault.remedy}</p>`}
      ${report.state === 'not set' ? nothing : this.renderReport(report)}
      ${this.renderPorts(off)}
      <div class="setup-grid">
        <label class="stacked wide">Port, or host:port of a serial device server
          <input
            name="source"
            autocomplete="off"
            spellcheck="false"
            maxlength="256"
            .value=${this.source}
            placeholder="chosen above or typed"
            ?disabled=${off}
            @input=${(event: Event) => {
              this.source = (event.target as HTMLInputElement).value;
            }}
          />
        </label>
        <label class="stacked wide">What its lines look like
          <select name="shape" ?disabled=${off} @change=${(event: Event) => {
            this.shape = (event.target as HTMLSelectElement).value;
          }}>
            ${this.shapes.map(
              ({ name, title }) => html`<option
                value=${name}
                ?selected=${name === shape}
              >${title}</option>`,
            )}
          </select>
        </label>
        ${choiceRow(
          'Unit where the line has none',
          [
            { value: 'as sent', label: 'as sent' },
            { value: 'in', label: 'inches' },
            { value: 'mm', label: 'millimetres' },
          ] as const,
          this.unit,
          off,
          (unit) => {
            this.unit = unit;
          },
        )}
        <label class="stacked">Channel or axis, empty for the first seen
          <input name="channel" autocomplete="off" maxlength="8" .value=${this.channel} ?disabled=${off} @input=${(
            event: Event,
          ) => {
            this.channel = (event.target as HTMLInputElement).value;
          }} />
        </label>
      </div>
      ${this.why ? html`<p class="field-why" role="alert">${this.why}</p>` : nothing}
      <div class="acts">
        <button type="button" class="act ${report.state === 'not set' ? 'act-now' : ''}" ?disabled=${off} @click=${this.connect}>
          Connect the ${this.link}
        </button>
        ${report.state === 'not set' ? nothing : actButton(this.screen, this.handle, 'Disconnect', { kind: 'disconnect', link: this.link })}
      </div>
    </section>`;
  }

  /** The shape chosen here, else the one in use, else the first of the list. */
  private chosenShape(): string {
    const inUse = this.screen.state.links[this.link].config?.shape;
    return this.shape || inUse || this.shapes[0]?.name || '';
  }

  /** A fault that already stands at the top of the page is not said twice. */
  private isStanding(code: string): boolean {
    return this.screen.state.faults.standing.some((fault) => fault.code === code);
  }

  private renderReport(report: LinkReport) {
    const reading = this.screen.state.live[this.link];
    const counters = Object.entries(report.counters) as [keyof LinkCounters, number][];
    return html`<dl class="sheet">
        <div><dt>as it came</dt><dd class="raw">${report.lastText || 'nothing yet'}</dd></div>
        <div><dt>understood as</dt><dd class="decoded">${reading === null ? 'nothing yet' : `${readingText(reading)} ${reading.unit}`}${reading === null || reading.status === 'ok' ? nothing : `, ${reading.status}`}</dd></div>
        <div><dt>rate</dt><dd>${report.readingsPerSecond.toFixed(report.readingsPerSecond < 10 ? 1 : 0)} a second</dd></div>
        ${counters
          .filter(([name, count]) => count > 0 || name === 'frames')
          .map(
            ([name, count]) => html`<div><dt>${COUNTER_WORDS[name]}</dt><dd>${count}</dd></div>`,
          )}
      </dl>`;
  }

  private renderPorts(off: boolean) {
    if (this.ports.length === 0) return nothing;
    return html`<div class="ports" role="group" aria-label="Ports of this computer">
      ${this.ports.map(
        (port) => html`<button
          type="button"
          class="choice port"
          aria-pressed=${this.source === port.path}
          ?disabled=${off}
          @click=${() => {
            this.source = port.path;
          }}
        ><strong>${port.path}</strong> <span>${port.title}</span> <small>${port.identity}</small></button>`,
      )}
    </div>`;
  }

  private readonly connect = (): void => {
    const config = linkConfigOf({
      source: this.source,
      shape: this.chosenShape(),
      unit: this.unit,
      channel: this.channel,
    });
    this.why = config.ok ? '' : config.why;
    if (config.ok)
      void this.handle.command({ kind: 'connect', link: this.link, config: config.value });
  };
}
