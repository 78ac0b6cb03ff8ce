import { html, nothing, svg } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { VERDICT_SHAPES } from '../../parts/face/verdict-shapes.ts';
import type { LatestState, Screen } from '../../state/latest-state.ts';
import { lastKeyedMm, stopNotch } from '../../view/answer.ts';
import { standingNow } from '../../view/standing-now.ts';
import { type FarWords, farWords } from './view/far-words.ts';
import { nextStep } from './view/next-step.ts';
import './next-step.ts';
import '../../parts/face/straight-gauge.ts';

/** True at its stage is half a square open to the right, true at tight a full one: told apart without a word. */
const MARKS: Readonly<Record<NonNullable<FarWords['mark']>, string>> = {
  'true at tight': 'M0 0h64v64H0zM10 18v8h44v-8zM10 38v8h44v-8z',
  'true so far':
    'M4 14h34v8H4zM4 42h34v8H4zM46 14h6v8h-6zM58 14h6v8h-6zM46 42h6v8h-6zM58 42h6v8h-6z',
  'not true': VERDICT_SHAPES['not true'],
  'too close to call': VERDICT_SHAPES['too close to call'],
};

/** The face for two metres: what to do, the needle, the reading to stop at, the verdict, and the one next step. */
@customElement('far-place')
export class FarPlace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private isReadingGood = false;
  /** What of the readings the next step follows: readings alone do not draw the page anew. */
  private followed = '';
  private latest: LatestState | null = null;
  private leave: (() => void) | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.leave = this.handle.loop.add((latest, nowMs) => {
      if (latest.state === null) return;
      this.latest = latest;
      const standing = standingNow(latest, latest.state, nowMs);
      this.isReadingGood = standing.reading !== null && !standing.greyed;
      const { live, nudges } = latest.state;
      const isNudging = nudges.y.state === 'waiting for the move';
      const readingMm = isNudging ? live.indicator?.valueMm?.toFixed(2) : '';
      const followed = `${readingMm}/${live.xMm?.toFixed(2)}`;
      if (followed !== this.followed) this.requestUpdate();
      this.followed = followed;
    });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.leave?.();
  }

  override render() {
    const { screen, handle } = this;
    const state = { ...screen.state, live: this.latest?.state?.live ?? screen.state.live };
    const isLost = screen.connection.kind !== 'connected';
    const words: FarWords = isLost
      ? { head: 'Connection lost', mark: null, lines: ['Do not tap'] }
      : farWords(state, this.isReadingGood);
    const { tap } = state;
    return html`<section class="far" aria-label="To be read from two metres" data-mark=${words.mark ?? nothing}>
      <h2 class="far-head">
        ${words.mark === null ? nothing : html`<svg viewBox="0 0 64 64" aria-hidden="true">${svg`<path d=${MARKS[words.mark]}></path>`}</svg>`}
        <span>${words.mark === 'true so far' ? 'true ' : nothing}${words.head}</span>
        ${state.bench.simulated ? html`<em>Simulated</em>` : nothing}
      </h2>
      <div class="far-lines" role="status">${words.lines.map((line) => html`<p>${line}</p>`)}</div>
      <straight-gauge
        .handle=${handle}
        .notch=${isLost ? null : tapNotch(state)}
        .parkedMm=${tap?.parkedReadingMm ?? null}
        .keyedMm=${state.links.indicator.state === 'not set' ? (tap?.readingMm ?? lastKeyedMm(state)) : null}
        .timesAsTall=${1.6}
      ></straight-gauge>
      <div class="far-foot">
        <next-step .handle=${handle} .screen=${screen} .step=${nextStep(state, this.isReadingGood)}></next-step>
        <a class="far-near" href=${tap === null ? '#sweep' : '#tap'}>Near</a>
      </div>
    </section>`;
  }
}

/** The parked stylus' own stop reading; before it is parked, that of the sweep. */
function tapNotch(state: Screen['state']) {
  const { tap } = state;
  if (tap === null) return state.sweep?.state === 'ended' ? stopNotch(state) : null;
  return {
    readingMm: tap.tapToReadingMm,
    lowMm: tap.stopBandMm?.lowMm ?? tap.tapToReadingMm,
    highMm: tap.stopBandMm?.highMm ?? tap.tapToReadingMm,
  };
}
