import type { Answer, Command, Fault } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { LiveSocket } from '../connection/live-socket.ts';
import { postCommand, postPair } from '../connection/post-command.ts';
import { PaintLoop } from '../frame/paint-loop.ts';
import { LatestState, type Screen } from '../state/latest-state.ts';
import { PLACES, type Place } from './bench-bar.ts';
import type { BenchHandle } from './bench-handle.ts';
import { PlainElement } from './plain-element.ts';
import './bench-bar.ts';
import './pair-form.ts';
import './standing-faults.ts';
import '../places/devices-place.ts';
import '../places/plan-place.ts';
import '../places/sweep-place.ts';
import '../places/tap-place.ts';

function placeOfAddress(): Place {
  const wanted = location.hash.slice(1);
  return PLACES.find((place) => place === wanted) ?? 'sweep';
}

/** The whole page: holds the connection, the latest state and the frame loop, and shows one place. */
@customElement('taptrue-page')
export class TaptruePage extends PlainElement implements BenchHandle {
  @state() private screen: Screen | null = null;
  @state() private place: Place = placeOfAddress();
  @state() private refusal: Fault | null = null;
  @state() private note = '';

  private readonly latest = new LatestState();
  private readonly socket = new LiveSocket(
    `${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}/stream`,
    {
      onHello: (hello) => this.latest.acceptHello(hello, performance.now()),
      onChange: (change) => this.latest.acceptChange(change, performance.now()),
      onConnection: (connection) => this.latest.setConnection(connection),
    },
  );
  readonly loop = new PaintLoop(this.latest, (painted) => this.socket.sendPainted(painted));
  private drawnRevision = -1;

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('hashchange', this.onAddress);
    this.loop.add(this.paint);
    this.loop.start();
    this.socket.open();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    removeEventListener('hashchange', this.onAddress);
    this.loop.stop();
    this.socket.close();
  }

  async command(command: Command): Promise<Answer> {
    const answer = await postCommand(command);
    this.refusal = answer.ok ? null : answer.fault;
    // What the simulated bench did is said beside its handles.
    this.note = answer.ok && command.kind !== 'demo' ? answer.note : '';
    return answer;
  }

  async pair(code: string, name: string): Promise<Answer> {
    const answer = await postPair(code, name);
    if (answer.ok) this.socket.connectNow();
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
  };

  override render() {
    const { screen } = this;
    if (screen === null) return this.renderWaiting();
    const { bench } = screen.state;
    return html`
      <bench-bar .handle=${this} .screen=${screen} .place=${this.place}></bench-bar>
      ${
        bench.simulated
          ? html`<div class="simulated-band" role="note">
              <span><strong>SIMULATED</strong> no real vise is measured</span>
            </div>`
          : nothing
      }
      ${this.renderConnection()}
      <standing-faults .handle=${this} .screen=${screen} .all=${this.place === 'devices'}></standing-faults>
      ${screen.role === 'watcher' ? html`<pair-form .handle=${this}></pair-form>` : nothing}
      <main>${this.renderPlace(screen)}</main>
      ${this.renderWord()}
    `;
  }

  private renderPlace(screen: Screen) {
    if (this.place === 'plan')
      return html`<plan-place .handle=${this} .screen=${screen}></plan-place>`;
    if (this.place === 'tap')
      return html`<tap-place .handle=${this} .screen=${screen}></tap-place>`;
    if (this.place === 'devices') {
      return html`<devices-place .handle=${this} .screen=${screen}></devices-place>`;
    }
    return html`<sweep-place .handle=${this} .screen=${screen}></sweep-place>`;
  }

  private renderWaiting() {
    const { connection } = this.latest;
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

  private renderConnection() {
    const connection = this.screen?.connection;
    if (connection === undefined || connection.kind === 'connected') return nothing;
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

  private renderWord() {
    const { refusal } = this;
    return html`<div class="bench-word ${refusal === null && this.note === '' ? 'empty' : ''}">
      <div role="alert">
        ${
          refusal === null
            ? nothing
            : html`<p><strong>${refusal.what}</strong> ${refusal.got ? html`Got: <q>${refusal.got}</q>.` : nothing} ${refusal.remedy}</p>
                <button type="button" class="act" @click=${this.clearWord}>Read</button>`
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
