import { html, nothing } from 'lit';
import { actButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import type { Screen } from '../../state/latest-state.ts';
import { searchGoingOn } from './view/find-source.ts';

/** That a search goes on, perhaps begun on another screen, and how to end it; nothing where none does. */
export function searchGoesOn(screen: Screen, handle: BenchHandle) {
  const find = searchGoingOn(screen.state.find);
  if (find === null) return nothing;
  return html`<div class="search-goes-on">
    <p>The ${find.link} is being looked for on ${find.port}; that port is not free before the search ends.</p>
    <div class="acts">${actButton(screen, handle, 'Stop the search', { kind: 'stop find' })}</div>
  </div>`;
}
