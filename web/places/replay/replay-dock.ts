import { REPLAY_SPEEDS, type RecordOverview, type ReplayMove } from '@taptrue/protocol';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { addressOfReplay } from '../../connection/replay-link.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import type { ReplayHandle } from './replay-handle.ts';
import { lastMark, spanWords, speedWords, sweepSpans } from './view/replay-words.ts';
import './replay-scale.ts';

/** Play, step and scrub, under the thumb at the foot of every place. */
@customElement('replay-dock')
export class ReplayDock extends PlainElement {
  @property({ attribute: false }) handle!: ReplayHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private overview: RecordOverview | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    document.addEventListener('keydown', this.onKey);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    document.removeEventListener('keydown', this.onKey);
  }

  private get replay() {
    return this.screen.state.replay!;
  }

  private get off(): boolean {
    return this.screen.connection.kind !== 'connected' || this.screen.role === 'watcher';
  }

  override render() {
    const { replay } = this;
    const { beginsMs, endsMs, atMs } = replay;
    return html`<section class="replay-dock" aria-label="Replay">
      <div class="replay-acts">
        ${this.button(replay.isPlaying ? 'Pause' : 'Play', { move: replay.isPlaying ? 'pause' : 'play' }, 'Space', 'replay-play')}
        ${this.button('Back', { move: 'step', way: 'back', to: 'anything' }, '←')}
        ${this.button('Next', { move: 'step', way: 'on', to: 'anything' }, '→')}
        ${this.button(html`<span class="wide">Next </span>station`, { move: 'step', way: 'on', to: 'station' }, 'S')}
        ${this.button(html`<span class="wide">Next </span>tap`, { move: 'step', way: 'on', to: 'tap' }, 'T')}
        <label class="replay-choice">Speed
          <select ?disabled=${this.off} @change=${this.onSpeed}>
            ${REPLAY_SPEEDS.map((speed) => html`<option value=${speed} ?selected=${speed === replay.speed}>${speedWords(speed)}</option>`)}
          </select>
        </label>
        ${this.renderSpan()}
        <p class="replay-time">
          <span class="replay-at"><strong>${spanWords(atMs - beginsMs)}</strong> of ${spanWords(endsMs - beginsMs)}</span>
          <span>${this.word()}</span>
        </p>
      </div>
      <replay-scale .handle=${this.handle} .screen=${this.screen} @overview=${this.onOverview}></replay-scale>
    </section>`;
  }

  private button(label: string | TemplateResult, move: ReplayMove, keys: string, look = '') {
    return html`<button
      type="button"
      class="act ${look}"
      ?disabled=${this.off}
      @click=${() => void this.handle.move(move)}
    ><span>${label}</span><kbd>${keys}</kbd></button>`;
  }

  /** The whole job or one of its sweeps, each at its own address. */
  private renderSpan() {
    const sweeps = sweepSpans(this.overview?.marks ?? []).filter(({ endsMs }) => endsMs !== null);
    if (sweeps.length === 0) return nothing;
    const { job, sweep } = this.replay;
    return html`<label class="replay-choice">Shown
      <select @change=${this.onSpan}>
        <option value=${addressOfReplay({ job, sweep: null })} ?selected=${sweep === null}>whole job</option>
        ${sweeps.map(
          ({ number }) =>
            html`<option value=${addressOfReplay({ job, sweep: number })} ?selected=${sweep === number}>sweep ${number}</option>`,
        )}
      </select>
    </label>`;
  }

  private word(): string {
    const { replay } = this;
    if (replay.goingThere !== null && replay.goingThere < 1)
      return `Going there: ${Math.floor(replay.goingThere * 100)} %.`;
    if (replay.reachedSpeed !== null)
      return `This computer keeps ${speedWords(replay.reachedSpeed)}, not ${speedWords(replay.speed)}. Nothing is left out.`;
    return lastMark(this.overview, replay.atMs);
  }

  private readonly onOverview = (event: CustomEvent<RecordOverview>): void => {
    this.overview = event.detail;
  };

  private readonly onSpeed = (event: Event): void => {
    const speed = Number((event.target as HTMLSelectElement).value);
    void this.handle.move({ move: 'speed', speed });
  };

  private readonly onSpan = (event: Event): void => {
    location.assign(`${(event.target as HTMLSelectElement).value}${location.hash}`);
  };

  private readonly onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.altKey || event.metaKey || this.off) return;
    const target = event.target as HTMLElement;
    if (target.closest('input, select, summary, a, button') !== null) {
      // A button pressed last keeps the focus; arrows and letters mean nothing to it, a space presses it.
      const isButton = target.closest('button') !== null;
      if (!isButton || event.key === ' ' || event.key === 'Enter') return;
    }
    const move = moveOf(event.key, this.replay.isPlaying, this.replay.speed);
    if (move === null) return;
    event.preventDefault();
    void this.handle.move(move);
  };
}

function moveOf(key: string, isPlaying: boolean, speed: number): ReplayMove | null {
  switch (key) {
    case ' ':
      return { move: isPlaying ? 'pause' : 'play' };
    case 'ArrowRight':
      return { move: 'step', way: 'on', to: 'anything' };
    case 'ArrowLeft':
      return { move: 'step', way: 'back', to: 'anything' };
    case 'ArrowUp':
      return { move: 'speed', speed: REPLAY_SPEEDS.find((one) => one > speed) ?? speed };
    case 'ArrowDown':
      return { move: 'speed', speed: REPLAY_SPEEDS.findLast((one) => one < speed) ?? speed };
    case 's':
    case 'S':
      return { move: 'step', way: 'on', to: 'station' };
    case 't':
    case 'T':
      return { move: 'step', way: 'on', to: 'tap' };
    default:
      return null;
  }
}
