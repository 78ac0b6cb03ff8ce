import { type BenchState, type LinkReport, STAGES, type Stage } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Screen } from '../../state/latest-state.ts';
import { LINK_WORDS, STAGE_MEANS } from '../../view/words.ts';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';
import { LINK_SHAPES } from '../face/standing-shapes.ts';

export const PLACES = ['far', 'plan', 'sweep', 'tap', 'set-ups', 'proof', 'devices'] as const;
export type Place = (typeof PLACES)[number];
/** A replay has what the recording shows; what is set up, looked up or connected is at the bench. */
export const REPLAY_PLACES: readonly Place[] = ['sweep', 'tap'];

const PLACE_TITLES: Readonly<Record<Place, string>> = {
  far: 'Far',
  plan: 'Plan',
  sweep: 'Sweep',
  tap: 'Tap',
  'set-ups': 'Set-ups',
  proof: 'Proof',
  devices: 'Devices',
};

const ROLE_WORDS = {
  'paired tablet': 'paired tablet',
  watcher: 'watching only',
} as const;

/** The quiet bar over every place: which bench, what is connected, how tight the clamps are. */
@customElement('bench-bar')
export class BenchBar extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) place: Place = 'sweep';

  override render() {
    const { state, role } = this.screen;
    return html`
      <header>
        <h1>${state.bench.name}</h1>
        <nav aria-label="Places">
          ${(state.replay === null ? PLACES : REPLAY_PLACES).map(
            (place) => html`<a
              href="#${place}"
              aria-current=${place === this.place ? 'page' : nothing}
            >${PLACE_TITLES[place]}</a>`,
          )}
        </nav>
        ${role === 'bench screen' ? nothing : html`<span class="role">${ROLE_WORDS[role]}</span>`}
        <div class="links">
          ${this.renderLink('indicator', state.links.indicator)}
          ${
            state.setup.way === 'readout' || state.links.readout.state !== 'not set'
              ? this.renderLink('readout', state.links.readout)
              : nothing
          }
        </div>
        ${this.renderStages()}
      </header>
    `;
  }

  private renderLink(name: string, link: LinkReport) {
    const keyedOnly = name === 'indicator' && link.state === 'not set';
    return html`<a class="link-state" href="#devices">
      <svg viewBox="0 0 24 24" aria-hidden="true">${svg`<path d=${LINK_SHAPES[link.state]}></path>`}</svg>
      <span>${name} <strong>${keyedOnly ? 'keyed by hand' : LINK_WORDS[link.state]}</strong></span>
    </a>`;
  }

  private renderStages() {
    const { state, mayCommand } = this.screen;
    const wanted = nextStage(state);
    return html`<div class="stages" role="group" aria-label="How tight the clamps are">
      <span class="stages-word">clamps</span>
      ${STAGES.map(
        (stage) => html`<button
          type="button"
          class="stage ${stage === wanted ? 'stage-now' : ''}"
          aria-pressed=${stage === state.bench.stage}
          title=${STAGE_MEANS[stage]}
          ?disabled=${!mayCommand}
          @click=${() => void this.handle.command({ kind: 'set stage', stage })}
        >${stage}</button>`,
      )}
    </div>`;
  }
}

/** A sweep that is true at its stage asks for the next one: that is then the thing to do. */
function nextStage({ bench, sweep }: BenchState): Stage | null {
  if (sweep?.state !== 'ended' || sweep.result?.verdict !== 'true') return null;
  if (sweep.stage !== bench.stage) return null;
  return STAGES[STAGES.indexOf(bench.stage) + 1] ?? null;
}
