import { html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { fetchShapes, type ShapeChoice } from '../../connection/fetch-lists.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { keptTheme, THEMES, useTheme } from '../../state/theme.ts';
import type { TeachFrom } from './find-device.ts';
import type { TeachShape } from './teach-shape.ts';
import './access-panel.ts';
import './link-panel.ts';
import './ports-list.ts';
import './settings-fold.ts';
import './teach-shape.ts';

/** The two devices; the ports, where the record goes and who may command are folded away. */
@customElement('devices-place')
export class DevicesPlace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private shapes: readonly ShapeChoice[] = [];
  @state() private why = '';
  @query('teach-shape') private teach!: TeachShape;

  override connectedCallback(): void {
    super.connectedCallback();
    void this.look();
  }

  override render() {
    const { bench, ports, settings } = this.screen.state;
    return html`
      ${
        this.why
          ? html`<div class="devices-head">
              <p class="warning">The line shapes could not be listed: ${this.why}.</p>
              <button type="button" class="act" @click=${() => void this.look()}>Look again</button>
            </div>`
          : nothing
      }
      <div class="links-side" @teach-unread=${(event: CustomEvent<TeachFrom>) => void this.teach.begin(event.detail)}>
        ${(['indicator', 'readout'] as const).map(
          (link) => html`<link-panel
            .handle=${this.handle}
            .screen=${this.screen}
            .link=${link}
            .shapes=${this.shapes}
          ></link-panel>`,
        )}
      </div>
      <section aria-label="Line shapes" @shapes-changed=${() => void this.look()}>
        <teach-shape .handle=${this.handle} .screen=${this.screen} .shapes=${this.shapes}></teach-shape>
      </section>
      <section aria-label="Colours of this screen">
        ${choiceRow(
          'Colours of this screen',
          THEMES.map((theme) => ({ value: theme, label: theme })),
          keptTheme(),
          false,
          (theme) => {
            useTheme(theme);
            this.requestUpdate();
          },
        )}
      </section>
      <section aria-label="Ports of this computer">
        <details>
          <summary>${portsWord(ports.ports.length + ports.leftOut, ports.watched)}</summary>
          <ports-list .section=${ports}></ports-list>
        </details>
      </section>
      ${
        settings.file === ''
          ? nothing
          : html`<section aria-label="Settings"><settings-fold .handle=${this.handle} .screen=${this.screen}></settings-fold></section>`
      }
      <section aria-label="Record">
        <h2>Record</h2>
        ${
          bench.recordFile === null
            ? html`<p class="warning">Nothing is being kept: see what is wrong above.</p>`
            : html`<p>This job is kept in <code>${bench.recordFile}</code></p>`
        }
        <p class="field-note">Taptrue ${bench.serviceVersion}, job ${bench.job.number} of this bench.</p>
      </section>
      <access-panel .handle=${this.handle} .screen=${this.screen}></access-panel>
      ${this.screen.role === 'watcher' ? html`<p class="field-note">Watching only: devices are set on the bench screen or a paired tablet.</p>` : nothing}
    `;
  }

  private async look(): Promise<void> {
    const shapes = await fetchShapes();
    if (shapes.ok) this.shapes = shapes.value;
    this.why = shapes.ok ? '' : shapes.why;
  }
}

function portsWord(count: number, watched: boolean): string {
  if (!watched) return 'Looking for ports';
  if (count === 0) return 'No serial port is plugged into this computer';
  return count === 1 ? 'The one port of this computer' : `The ${count} ports of this computer`;
}
