import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { whatIfWords } from './view/replay-words.ts';

/** Over every place of a replay, and in sight wherever the page is scrolled to: this is not the bench. */
@customElement('replay-band')
export class ReplayBand extends PlainElement {
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { replay } = this.screen.state;
    if (replay === null) return nothing;
    const tried = whatIfWords(replay);
    return html`<aside class="replay-band" aria-label="Replay, not the bench">
      <span class="replay-what">
        <strong>REPLAY</strong>
        job ${replay.jobNumber}${replay.sweep === null ? '' : `, sweep ${replay.sweep}`}<span class="replay-when">${recordedAt(replay.wallClock)}</span>
        ${tried === '' ? nothing : html`<strong class="what-if-word">WHAT IF</strong> another ${tried}`}
      </span>
      <span class="replay-ways">
        <button type="button" class="act" @click=${toCompare}>What if</button>
        <a class="act" href="/">Back to the bench</a>
      </span>
    </aside>`;
  }
}

/** Recorded and recomputed stand below everything the bench shows. */
function toCompare(): void {
  document.querySelector('replay-compare')?.scrollIntoView({ block: 'start' });
}

function recordedAt(wallClock: string): string {
  const at = new Date(wallClock);
  if (Number.isNaN(at.getTime())) return '';
  const date = at.toLocaleDateString(undefined, { dateStyle: 'medium' });
  const time = at.toLocaleTimeString(undefined, { timeStyle: 'short' });
  return `, recorded ${date}, ${time}`;
}
