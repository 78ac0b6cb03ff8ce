import type { Answer, Command, Fault, ReplayMove } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { LiveSocket } from '../../connection/live-socket.ts';
import { postCommand, postPair } from '../../connection/post-command.ts';
import {
  openReplay,
  postMove,
  postReplayCommand,
  replayOfAddress,
} from '../../connection/replay-link.ts';
import { PaintLoop } from '../../frame/paint-loop.ts';
import type { ReplayHandle } from '../../places/replay/replay-handle.ts';
import { LatestState, type Screen } from '../../state/latest-state.ts';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';
import { PLACES, type Place, REPLAY_PLACES } from './bench-bar.ts';
import { loadOtherPlaces, loadPlace } from './load-place.ts';
import './bench-bar.ts';
import './pair-form.ts';
import '../../places/replay/replay-band.ts';
import '../../places/replay/replay-compare.ts';
import '../../places/replay/replay-dock.ts';
import './standing-faults.ts';

/** What the address asks to be replayed; it does not change without the page being loaded again. */
const REPLAY_OF = replayOfAddress(location.search);

function placeOfAddress(): Place {
  // What follows the place is the place's own: a job that is opened, sweeps that are compared.
  const [wanted] = location.hash.slice(1).split('/');
  const places = REPLAY_OF === null ? PLACES : REPLAY_PLACES;
  return places.find((place) => place === wanted) ?? 'sweep';
}

/** The whole page: holds the connection, the latest state and the frame loop, and shows one place. */
@customElement('taptrue-page')
export class TaptruePage extends PlainElement implements BenchHandle, ReplayHandle {
  @state() private screen: Screen | null = null;
  @state() private place: Place = placeOfAddress();
  @state() private refusal: Fault | null = null;
  @state() private note = '';

  private readonly latest = new LatestState();
  private socket: LiveSocket | null = null;
  private replayId = '';
  readonly loop = new PaintLoop(this.latest, (painted) => this.socket?.sendPainted(painted));
  private drawnRevision = -1;

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('hashchange', this.onAddress);
    this.loop.add(this.paint);
    this.loop.start();
    void this.load(this.place).then(() => loadOtherPlaces(this.place));
    if (REPLAY_OF === null) this.listenTo('/stream');
    else void this.openReplay(REPLAY_OF);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    removeEventListener('hashchange', this.onAddress);
    this.loop.stop();
    this.socket?.close();
  }

  private listenTo(path: string): void {
    const scheme = location.protocol === 'https:' ? 'wss' : 'ws';
    this.socket = new LiveSocket(`${scheme}://${location.host}${path}`, {
      onHello: (hello) => this.latest.acceptHello(hello, performance.now()),
      onChange: (change) => this.latest.acceptChange(change, performance.now()),
      onConnection: (connection) => this.latest.setConnection(connection),
    });
    this.socket.open();
  }

  private async openReplay(of: NonNullable<typeof REPLAY_OF>): Promise<void> {
    document.title = 'REPLAY, Taptrue';
    const opened = await openReplay(of);
    if (!opened.ok) {
      this.refusal = opened.fault;
      return;
    }
    this.replayId = opened.id;
    this.listenTo(`/replay/${opened.id}/stream`);
  }

  async move(move: ReplayMove): Promise<Answer> {
    const answer = await postMove(this.replayId, move);
    this.refusal = answer.ok ? null : answer.fault;
    return answer;
  }

  async command(command: Command): Promise<Answer> {
    const answer =
      REPLAY_OF === null
        ? await postCommand(command)
        : await postReplayCommand(this.replayId, command);
    this.refusal = answer.ok ? null : answer.fault;
    // What the simulated bench did is said beside its handles.
    this.note = answer.ok && command.kind !== 'demo' ? answer.note : '';
    return answer;
  }

  async pair(code: string, name: string): Promise<Answer> {
    const answer = await postPair(code, name);
    if (answer.ok) this.socket?.connectNow();
    return answer;
  }

  private readonly paint = (latest: LatestState): void => {
    if (latest.revision === this.drawnRevision) return;
    this.drawnRevision = latest.revision;
    this.screen = latest.screen();
    if (this.screen === null) this.requestUpdate();
  };

  private readonly onAddress = (): void => {
    this.place = placeOfAddress();
    this.refusal = null;
    this.note = '';
    scrollTo(0, 0);
    void this.load(this.place);
  };

  private async load(place: Place): Promise<void> {
    const fault = await loadPlace(place);
    if (fault) this.refusal = fault;
    this.requestUpdate();
  }

  override render() {
    const { screen } = this;
    if (screen === null) return this.renderWaiting();
    // An element that is drawn before its class is there starts without what it is given.
    if (!customElements.get(`${this.place}-place`)) return this.renderLoading();
    if (this.place === 'far') return this.renderFar(screen);
    const { bench } = screen.state;
    const isReplay = screen.state.replay !== null;
    return html`
      ${isReplay ? html`<replay-band .screen=${screen}></replay-band>` : nothing}
      <bench-bar .handle=${this} .screen=${screen} .place=${this.place}></bench-bar>
      ${
        bench.simulated
          ? html`<aside class="simulated-band" aria-label="Simulated bench">
              <span><strong>SIMULATED</strong> no real vise is measured</span>
            </aside>`
          : nothing
      }
      ${this.renderConnection()}
      <standing-faults .handle=${this} .screen=${screen} .all=${this.place === 'devices'}></standing-faults>
      ${screen.role === 'watcher' ? html`<pair-form .handle=${this}></pair-form>` : nothing}
      <main>
        ${this.renderPlace(screen)}
        ${isReplay ? html`<replay-compare .handle=${this} .screen=${screen}></replay-compare>` : nothing}
      </main>
      ${isReplay ? html`<replay-dock .handle=${this} .screen=${screen}></replay-dock>` : nothing}
      ${this.renderWord()}
    `;
  }

  private renderLoading() {
    return html`<main class="waiting">
      <p role="status">Loading.</p>
      ${this.renderWord()}
    </main>`;
  }

  /** Nothing but what is needed with a hand on the handle; a refusal still has to be seen. */
  private renderFar(screen: Screen) {
    return html`
      <main><h1 class="heard-only">${screen.state.bench.name}</h1><far-place .handle=${this} .screen=${screen}></far-place></main>
      ${this.refusal === null ? nothing : this.renderWord()}
    `;
  }

  private renderPlace(screen: Screen) {
    if (this.place === 'plan')
      return html`<plan-place .handle=${this} .screen=${screen}></plan-place>`;
    if (this.place === 'tap')
      return html`<tap-place .handle=${this} .screen=${screen}></tap-place>`;
    if (this.place === 'set-ups')
      return html`<set-ups-place .handle=${this} .screen=${screen}></set-ups-place>`;
    if (this.place === 'proof')
      return html`<proof-place .handle=${this} .screen=${screen}></proof-place>`;
    if (this.place === 'devices') {
      return html`<devices-place .handle=${this} .screen=${screen}></devices-place>`;
    }
    return html`<sweep-place .handle=${this} .screen=${screen}></sweep-place>`;
  }

  private renderWaiting() {
    const { connection } = this.latest;
    if (REPLAY_OF !== null) return this.renderOpening();
    return html`<main class="waiting">
      <h1>Taptrue</h1>
      <p role="status">
        ${
          connection.kind === 'other version'
            ? `The service speaks version ${connection.theirs}, which this page does not. Reload the page.`
            : connection.kind === 'lost'
              ? `${connection.why} Trying again. Is the service still running on the bench's computer?`
              : 'Connecting to the bench.'
        }
      </p>
    </main>`;
  }

  private renderOpening() {
    const { refusal } = this;
    return html`<main class="waiting">
      <h1>Replay</h1>
      <p role="status">
        ${refusal === null ? 'Opening the recording.' : html`<strong>${refusal.what}</strong> ${refusal.got ? html`Got: <q>${refusal.got}</q>.` : nothing} ${refusal.remedy}`}
      </p>
      <p><a class="act" href="/">Back to the bench</a></p>
    </main>`;
  }

  private renderConnection() {
    const connection = this.screen?.connection;
    if (connection === undefined || connection.kind === 'connected') return nothing;
    if (REPLAY_OF !== null) return this.renderReplayLost();
    const what =
      connection.kind === 'other version'
        ? `The service now speaks version ${connection.theirs}. Reload the page.`
        : connection.kind === 'lost'
          ? connection.why
          : 'Connecting again.';
    return html`<div class="lost-banner" role="alert">
      <svg viewBox="0 0 24 24" aria-hidden="true"><path d="M1 9h8v6H1zM15 9h8v6h-8z"></path></svg>
      <p>
        <strong>Connection lost.</strong> ${what} What was measured is kept by the service; results below are
        the last it sent. The needle is not shown. Do not tap by this screen until it is back.
      </p>
    </div>`;
  }

  private renderReplayLost() {
    return html`<div class="lost-banner" role="alert">
      <svg viewBox="0 0 24 24" aria-hidden="true"><path d="M1 9h8v6H1zM15 9h8v6h-8z"></path></svg>
      <p>
        <strong>The replay is closed or the service is gone.</strong> A replay closes a minute after the last screen
        left it, and after half an hour of standing still.
      </p>
      <button type="button" class="act" @click=${() => location.reload()}>Open it again</button>
    </div>`;
  }

  private renderWord() {
    const { refusal } = this;
    return html`<div class="bench-word ${refusal === null && this.note === '' ? 'empty' : ''}">
      <div role="alert">
        ${
          refusal === null
            ? nothing
            : html`<p><strong>${refusal.what}</strong> ${refusal.got ? html`Got: <q>${refusal.got}</q>.` : nothing} ${refusal.remedy}</p>
                <button type="button" class="act" @click=${this.clearWord}>Close</button>`
        }
      </div>
      <div role="status">
        ${this.note === '' ? nothing : html`<p>${this.note}</p>`}
      </div>
    </div>`;
  }

  private readonly clearWord = (): void => {
    this.refusal = null;
    this.note = '';
  };
}
