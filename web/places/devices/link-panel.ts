import type { LinkName, LinkReport } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { ShapeChoice } from '../../connection/fetch-lists.ts';
import { actButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { LINK_SHAPES } from '../../parts/face/standing-shapes.ts';
import type { Screen } from '../../state/latest-state.ts';
import { readingText } from '../../view/reading-standing.ts';
import { LINK_WORDS } from '../../view/words.ts';
import { agoText, sourceWords } from './view/line-words.ts';
import './find-device.ts';
import './link-connect.ts';
import './link-line.ts';
import './source-modbus.ts';
import './source-mtconnect.ts';

/** One device: how it stands and what it shows now. How to connect it and what comes on its line are folded away. */
@customElement('link-panel')
export class LinkPanel extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) link: LinkName = 'indicator';
  @property({ attribute: false }) shapes: readonly ShapeChoice[] = [];

  override render() {
    const report = this.screen.state.links[this.link];
    const isSet = report.state !== 'not set';
    return html`<section class="link" aria-label=${this.link}>
      <h2>
        <svg viewBox="0 0 24 24" aria-hidden="true">${svg`<path d=${LINK_SHAPES[report.state]}></path>`}</svg>
        ${this.link}: ${LINK_WORDS[report.state]}
        ${report.simulated ? html`<em class="simulated-word">SIMULATED</em>` : nothing}
      </h2>
      ${isSet ? this.renderNow(report) : nothing}
      ${report.fault === null || this.isStanding(report.fault.code) ? nothing : html`<p class="warning"><strong>${report.fault.what}</strong> ${report.fault.got ? html`Got: <q>${report.fault.got}</q>.` : nothing} ${report.fault.remedy}</p>`}
      ${
        isSet
          ? html`<details class="line-fold">
              <summary>What comes on its line</summary>
              <link-line .report=${report}></link-line>
            </details>`
          : nothing
      }
      <details class="connect-fold" ?open=${this.isNext() || this.screen.state.find?.link === this.link}>
        <summary>${isSet ? 'Find another' : `Find the ${this.link}`}</summary>
        <find-device .handle=${this.handle} .screen=${this.screen} .link=${this.link}></find-device>
      </details>
      <details class="connect-fold">
        <summary>${isSet ? 'Connect another by hand' : 'Connect it by hand'}</summary>
        <link-connect
          .handle=${this.handle}
          .screen=${this.screen}
          .link=${this.link}
          .shapes=${this.shapes}
        ></link-connect>
      </details>
      <details class="connect-fold">
        <summary>Registers (Modbus)</summary>
        <source-modbus .handle=${this.handle} .screen=${this.screen} .link=${this.link}></source-modbus>
      </details>
      ${
        this.link === 'readout'
          ? html`<details class="connect-fold">
              <summary>The machine’s own positions (MTConnect)</summary>
              <source-mtconnect .handle=${this.handle} .screen=${this.screen} .link=${this.link}></source-mtconnect>
            </details>`
          : nothing
      }
    </section>`;
  }

  private renderNow(report: LinkReport) {
    const reading = this.screen.state.live[this.link];
    const from = sourceWords(report.config, this.screen.state.ports.ports);
    return html`
      <p class="link-now">
        <strong class="decoded">${reading === null ? '—' : `${readingText(reading)} ${reading.unit}`}</strong>
        ${reading === null || reading.status === 'ok' ? nothing : html`<em>${reading.status}</em>`}
        <span>${from}</span>
        ${report.line ? html`<span class="field-note">last reading ${agoText(report.line.sinceLastMs)}</span>` : nothing}
      </p>
      <div class="acts">
        ${actButton(this.screen, this.handle, 'Disconnect', { kind: 'disconnect', link: this.link })}
      </div>
    `;
  }

  /** One thing to do first: the indicator, and then the readout where positions are to come from one. */
  private isNext(): boolean {
    const { links, setup } = this.screen.state;
    if (links[this.link].state !== 'not set') return false;
    if (this.link === 'indicator') return true;
    return setup.way === 'readout' && links.indicator.state !== 'not set';
  }

  /** A fault that already stands at the top of the page is not said twice. */
  private isStanding(code: string): boolean {
    return this.screen.state.faults.standing.some((fault) => fault.code === code);
  }
}
