import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { actButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';

/** Tablets that may command this bench, and the code that pairs another. Only on the bench screen. */
@customElement('access-panel')
export class AccessPanel extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { access, role } = this.screen;
    if (access === null || role !== 'bench screen') return nothing;
    return html`<section aria-label="Tablets">
      <h2>Tablets</h2>
      ${
        access.pairingCode === null
          ? html`<p>The service listens on this computer only, so no tablet can reach it. Start it with
              <code>--listen</code>, and a pairing code appears here.</p>`
          : html`<p>On the tablet open ${access.addresses.map((address, index) => html`${index > 0 ? ' or ' : ''}<strong>${addressToOpen(address)}</strong>`)} and type this code:</p>
              <p class="pairing-code">${access.pairingCode}</p>
              <p class="field-note">${access.triesLeft} wrong tries are left before the code changes.</p>
              <div class="acts">${actButton(this.screen, this.handle, 'Another code', { kind: 'new pairing code' })}</div>`
      }
      ${
        access.tablets.length === 0
          ? html`<p class="field-note">No tablet is paired.</p>`
          : html`<ul class="tablets">${access.tablets.map(
              ({ id, name }) =>
                html`<li><span>${name}</span> ${actButton(this.screen, this.handle, `Unpair ${name}`, { kind: 'revoke tablet', id })}</li>`,
            )}</ul>`
      }
    </section>`;
  }
}

/** What is typed on the tablet: without the port the browser there would look for another service. */
function addressToOpen(address: string): string {
  if (address.includes('://')) return address;
  return `http://${address.includes(':') ? `[${address}]` : address}:${location.port}/`;
}
