import type { PortRow, PortsSection } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { KNOWN_BY_WORDS, portUseWords } from './view/line-words.ts';

/** Every serial port of the bench's computer: what it is, what it is used for, what stands against it. */
@customElement('ports-list')
export class PortsList extends PlainElement {
  @property({ attribute: false }) section!: PortsSection;

  override render() {
    const { ports, leftOut } = this.section;
    if (ports.length === 0) {
      return html`<p>
        No serial port is plugged in. One that is plugged in appears here by itself; another can be typed under Connect.
      </p>`;
    }
    return html`
      <ul class="ports-list">${ports.map((port) => this.renderPort(port))}</ul>
      ${leftOut > 0 ? html`<p class="field-note">${leftOut} more are not listed; they can be typed.</p>` : nothing}
    `;
  }

  private renderPort(port: PortRow) {
    const { hindrance } = port;
    return html`<li>
      <p><strong>${port.path}</strong> ${port.title}: ${portUseWords(port)}</p>
      <p class="field-note">${port.identity}: ${KNOWN_BY_WORDS[port.knownBy]}</p>
      ${hindrance === null || port.usedBy !== null ? nothing : html`<p class="warning">${hindrance.what} ${hindrance.remedy}</p>`}
    </li>`;
  }
}
