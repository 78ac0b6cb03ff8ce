import type {
  FindQuestion,
  FindSection,
  FindState,
  FindUnread,
  LinkName,
  LinkSource,
} from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { actButton, doButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { searchGoesOn } from './search-goes-on.ts';
import { findSourceOf, leftWords, searchGoingOn, userOf } from './view/find-source.ts';
import { portUseWords } from './view/line-words.ts';

/** A device whose lines are to be taught, and the lines. */
export interface TeachFrom {
  link: LinkName;
  unread: FindUnread;
}

/** One device found by listening: which port, what is being tried, and the one question at the end. */
@customElement('find-device')
export class FindDevice extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) link: LinkName = 'indicator';
  @state() private source = '';
  @state() private why = '';
  /** The service refused because the port is in use here: the next press closes that device first. */
  @state() private closeFirst = false;

  override render() {
    const { find } = this.screen.state;
    if (find === null) return this.renderChoice(null);
    if (find.link !== this.link) return this.renderChoice(find);
    return html`<div class="finding">${this.renderFinding(find)}</div>`;
  }

  private renderChoice(other: FindSection | null) {
    const { ports, demo } = this.screen.state;
    const otherGoesOn = searchGoingOn(other) !== null;
    const off = !this.screen.mayCommand || otherGoesOn;
    const user = this.closeFirst ? 'device' : userOf(this.source, ports.ports);
    const isNext = this.source !== '' && this.screen.state.links[this.link].state === 'not set';
    // What cannot be opened is still to be chosen, but it is not what one looks for.
    const likelyFirst = [...ports.ports].sort(
      (one, other) => Number(one.hindrance !== null) - Number(other.hindrance !== null),
    );
    return html`
      <p>${ports.ports.length === 0 ? 'No port is plugged into this computer. Plug the device in: its port then stands here.' : 'Choose the port it is plugged into.'} Speed, parity and the form of its lines are found by listening; nothing is sent to it.</p>
      ${otherGoesOn ? html`<p class="field-note">One search at a time.</p>` : nothing}
      ${searchGoesOn(this.screen, this.handle)}
      <div class="ports" role="group" aria-label="Ports to listen on">
        ${likelyFirst.map(
          (port) => html`<button
            type="button"
            class="choice port"
            aria-pressed=${this.source === port.path}
            ?disabled=${off}
            @click=${() => this.choose(port.path)}
          ><strong>${port.path}</strong> <span>${port.title}</span>
          ${port.usedBy === null && port.hindrance === null ? nothing : html`<small>${portUseWords(port)}</small>`}</button>`,
        )}
      </div>
      <label class="stacked">Or type it: the name of a port, or on the network address:port, such as 192.168.1.20:4001
        <input
          name="find-source"
          autocomplete="off"
          spellcheck="false"
          maxlength="256"
          .value=${this.source}
          ?disabled=${off}
          @input=${(event: Event) => this.choose((event.target as HTMLInputElement).value)}
        />
      </label>
      ${this.why ? html`<p class="field-why" role="alert">${this.why}</p>` : nothing}
      ${user === null ? nothing : html`<p>The ${user} is read from this port now. It is closed first.</p>`}
      <div class="acts">
        <button type="button" class="act ${isNext ? 'act-now' : ''}" ?disabled=${off} @click=${() => void this.begin()}>
          ${user === null ? `Find the ${this.link}` : `Close it and find the ${this.link}`}
        </button>
        ${
          demo === null
            ? nothing
            : html`<button type="button" class="act" ?disabled=${off} @click=${() => void this.beginOn({ kind: 'simulated', device: this.link }, true)}>
                Find the simulated ${this.link}
              </button>`
        }
      </div>
    `;
  }

  private renderFinding(find: FindSection) {
    switch (find.state) {
      case 'question':
        return find.question === null ? nothing : this.renderQuestion(find.question, find);
      case 'connected':
        return html`<p class="find-state" role="status">Found.</p>
          <p>${find.sentence}</p>
          <div class="acts">${this.stopButton('Done')}</div>`;
      case 'nothing found':
        return html`<p class="find-state" role="status">${find.unread === undefined ? `Nothing found on ${find.port}.` : `Heard on ${find.port}, but not understood.`}</p>
          ${find.fault === null ? nothing : html`<p class="warning">${find.fault.what}</p><p>${find.fault.remedy}</p>${find.fault.got ? html`<p class="field-note find-got">Got: <q>${find.fault.got}</q></p>` : nothing}`}
          <div class="acts">${find.unread === undefined ? nothing : this.renderTeach(find.unread)}${this.stopButton('Try again')}</div>`;
      case 'stopped':
        return html`<p role="status">Stopped.</p><div class="acts">${this.stopButton('Try again')}</div>`;
      default:
        return this.renderGoingOn(find);
    }
  }

  /** The lines are there already: what they mean is told further down, not found out again. */
  private renderTeach(unread: FindUnread) {
    const teach = () =>
      this.dispatchEvent(
        new CustomEvent<TeachFrom>('teach-unread', {
          detail: { link: this.link, unread },
          bubbles: true,
        }),
      );
    const what = unread.form === 'lines' ? 'Teach its lines' : 'Teach what it sends';
    return doButton(this.screen, what, teach, { look: 'now' });
  }

  private renderGoingOn(find: FindSection) {
    return html`
      <p class="find-state">${FIND_WORDS[find.state]} <small>${find.port}</small></p>
      <p class="find-sentence">${find.sentence}</p>
      <p class="field-note">${leftWords(find.secondsLeft)}</p>
      ${find.consent === 'wanted' ? this.renderConsent() : nothing}
      <div class="acts">${this.stopButton('Stop the search')}</div>
    `;
  }

  private renderConsent() {
    return html`<div class="find-consent" role="group" aria-label="May it be asked?">
      <p><strong>Nothing readable has come by itself.</strong> Some devices send only when asked. May Taptrue send it one character at a time, such as R or a question mark? They ask for a reading and change nothing.</p>
      <div class="acts">
        ${this.answerButton('Yes, ask it', 'may ask', true)}
        ${this.answerButton('No, only listen', 'may not ask')}
      </div>
    </div>`;
  }

  private renderQuestion(question: FindQuestion, find: FindSection) {
    const { number, unit, channel } = question;
    return html`
      <p class="find-ask" id="find-ask-${this.link}">Does the screen of the device say this${channel === null ? '' : ` for ${channel}`}?</p>
      <p class="find-number">${number.replace('-', '−')} <span class="unit">${unit ?? ''}</span></p>
      <div class="acts" role="group" aria-labelledby="find-ask-${this.link}">
        ${this.answerButton('Yes, that is it', 'yes', true)}
        ${this.answerButton('No', 'no')}
        ${this.stopButton('Stop the search')}
      </div>
      ${question.lead ? html`<p class="find-lead">${question.lead}</p>` : nothing}
      ${question.of > 1 ? html`<p class="field-note">This is way ${question.index + 1} of ${question.of} to read it; No shows the next.</p>` : nothing}
      <details>
        <summary>How it is read</summary>
        <dl class="sheet">
          <div><dt>port</dt><dd>${find.port}</dd></div>
          ${question.settings ? html`<div><dt>settings</dt><dd>${question.settings}</dd></div>` : nothing}
          <div><dt>lines</dt><dd>${question.shape}</dd></div>
          <div><dt>as it came</dt><dd class="raw">${question.text}</dd></div>
          <div><dt>when</dt><dd>${question.sends}</dd></div>
        </dl>
      </details>
    `;
  }

  private answerButton(
    label: string,
    answer: 'yes' | 'no' | 'may ask' | 'may not ask',
    now = false,
  ) {
    return actButton(
      this.screen,
      this.handle,
      label,
      { kind: 'answer find', answer },
      { look: now ? 'now' : 'plain', big: answer === 'yes' || answer === 'no' },
    );
  }

  private stopButton(label: string) {
    return actButton(this.screen, this.handle, label, { kind: 'stop find' });
  }

  private choose(text: string): void {
    this.source = text;
    this.why = '';
    this.closeFirst = false;
  }

  private async begin(): Promise<void> {
    const source = findSourceOf(this.source);
    this.why = source.ok ? '' : source.why;
    if (!source.ok) return;
    const used = userOf(this.source, this.screen.state.ports.ports) !== null;
    await this.beginOn(source.value, used || this.closeFirst);
  }

  private async beginOn(source: LinkSource, closeFirst: boolean): Promise<void> {
    const answer = await this.handle.command({
      kind: 'begin find',
      link: this.link,
      source,
      closeFirst,
    });
    this.closeFirst = !answer.ok && answer.fault.code === 'find-port-used';
  }
}

const FIND_WORDS: Readonly<Partial<Record<FindState, string>>> = {
  listening: 'Listening',
  'making sure': 'Making sure',
  asking: 'Asking',
  'waiting for its key': 'Press its send key',
};
