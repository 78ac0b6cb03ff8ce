import type { PortDescription } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fetchPorts, fetchShapes, type ShapeChoice } from '../connection/fetch-lists.ts';
import type { BenchHandle } from '../elements/bench-handle.ts';
import { PlainElement } from '../elements/plain-element.ts';
import type { Screen } from '../state/latest-state.ts';
import '../elements/access-panel.ts';
import '../elements/link-panel.ts';

/** What is connected, what comes from it, where the record goes, who may command. */
@customElement('devices-place')
export class DevicesPlace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private ports: readonly PortDescription[] = [];
  @state() private shapes: readonly ShapeChoice[] = [];
  @state() private portsWord = 'Looking for ports.';

  override connectedCallback(): void {
    super.connectedCallback();
    void this.look();
  }

  override render() {
    const { bench } = this.screen.state;
    return html`
      <div class="devices-head">
        <p>${this.portsWord}</p>
        <button type="button" class="act" @click=${() => void this.look()}>Look again</button>
      </div>
      <div class="links-side">
        ${(['indicator', 'readout'] as const).map(
          (link) => html`<link-panel
            .handle=${this.handle}
            .screen=${this.screen}
            .link=${link}
            .ports=${this.ports}
            .shapes=${this.shapes}
          ></link-panel>`,
        )}
      </div>
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
    const [ports, shapes] = await Promise.all([fetchPorts(), fetchShapes()]);
    if (shapes.ok) this.shapes = shapes.value;
    if (ports.ok) this.ports = ports.value;
    this.portsWord = portsWord(ports, shapes);
  }
}

function portsWord(
  ports: { ok: true; value: readonly unknown[] } | { ok: false; why: string },
  shapes: { ok: true } | { ok: false; why: string },
): string {
  if (!ports.ok) return `The ports could not be listed: ${ports.why}. A port can still be typed.`;
  if (!shapes.ok) return `The line shapes could not be listed: ${shapes.why}. Look again.`;
  if (ports.value.length === 0) {
    return 'No port was found on this computer. Plug the device in and look again, or type a port or host:port.';
  }
  return `${ports.value.length} ${ports.value.length === 1 ? 'port' : 'ports'} found on this computer.`;
}
