import type {
  LinkConfig,
  LinkName,
  LinkSource,
  Mark,
  PortSettings,
  TeachAnswer,
  TeachQuestion,
} from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { ShapeChoice } from '../../connection/fetch-lists.ts';
import { fetchBytes, tryShape } from '../../connection/post-teaching.ts';
import { doButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import type { TeachFrom } from './find-device.ts';
import type { TeachCapture } from './teach-capture.ts';
import type { CellSpan, TeachCells } from './teach-cells.ts';
import { sourceWords } from './view/line-words.ts';
import { BYTE_MEANINGS, emptyQuestion, MEANINGS } from './view/teach-words.ts';
import './teach-capture.ts';
import './teach-details.ts';
import './teach-lines.ts';
import './teach-shelf.ts';
import './teach-cells.ts';

function portSettingsOf(source: LinkSource): PortSettings | null {
  return source.kind === 'serial' ? source.settings : null;
}

/** A hand has moved a stylus twice in much less. */
const LISTENS_ON_MS = 120_000;
const LOOKS_AGAIN_MS = 500;
/** As many as the service wants to be different. */
const LINES_WANTED = 3;

const LINKS = ['indicator', 'readout'] as const;

/** Teaches the bench a line that no shape knows: three lines, marks on one of them, a name. */
@customElement('teach-shape')
export class TeachShape extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) shapes: readonly ShapeChoice[] = [];
  @state() private question: TeachQuestion = emptyQuestion();
  @state() private answer: TeachAnswer | null = null;
  @state() private span: CellSpan | null = null;
  @state() private why = '';
  @state() private kept = '';
  /** The device that was looked for and not understood, and where it is. */
  @state() private from: TeachFrom | null = null;
  @state() private listensOn = false;
  @query('details') private fold!: HTMLDetailsElement;
  @query('teach-capture') private capture!: TeachCapture;
  @query('teach-cells') private cells!: TeachCells | null;
  private asks = 0;

  /** Lines that a search heard, with the device they come from: they are looked at at once. */
  async begin(from: TeachFrom): Promise<void> {
    const { source, form, captured } = from.unread;
    this.from = from;
    this.kept = '';
    this.fold.open = true;
    const taken = { captured, fromPort: true, form };
    this.capture.shows(taken);
    await this.ask({ ...emptyQuestion(), ...taken, port: portSettingsOf(source) });
    await this.focusBeginning();
  }

  override render() {
    const off = !this.screen.mayCommand;
    return html`<details>
        <summary>Teach a line that is not in the list</summary>
        <div class="teach">
          <h3>1. Three lines of the device</h3>
          ${this.from === null ? nothing : html`<p>Taken: what came from ${this.placeOf(this.from)} while the ${this.from.link} was looked for. Other lines can take their place:</p>`}
          <teach-capture .screen=${this.screen} .off=${off} @captured=${(event: CustomEvent<Partial<TeachQuestion>>) => this.captured(event.detail)}></teach-capture>
          ${this.why ? html`<p class="field-why" role="alert">${this.why}</p>` : nothing}
          ${this.answer === null || this.question.captured === '' ? nothing : this.renderAnswer(this.answer, off)}
        </div>
      </details>
      <details>
        <summary>Line shapes of this shop</summary>
        <div class="teach">
          <teach-shelf .handle=${this.handle} .shapes=${this.shapes} .off=${off}></teach-shelf>
        </div>
      </details>`;
  }

  private renderAnswer(answer: TeachAnswer, off: boolean) {
    if (answer.lines.length === 0) {
      return html`${this.renderNeeds(answer)} ${this.from === null ? nothing : this.renderListenOn(this.from)}`;
    }
    const { question } = this;
    const line = answer.lines[Math.min(question.line, answer.lines.length - 1)];
    return html`
      <h3 class="teach-begins" tabindex="-1">2. What is what</h3>
      <p>What changes was guessed. Where the guess is wrong: touch the first and the last character of a piece, or drag over it, then say what it is. With keys: arrows, Shift to take more.</p>
      <teach-cells .text=${line?.text ?? ''} .marks=${answer.marks} .off=${off} @span=${(
        event: CustomEvent<CellSpan | null>,
      ) => {
        this.span = event.detail;
      }}></teach-cells>
      <div class="acts" role="group" aria-label="What the chosen piece is">
        ${[...MEANINGS, ...(question.form === 'bytes' ? BYTE_MEANINGS : [])].map(
          ({ means, word, note }) =>
            html`<button type="button" class="act" title=${note} ?disabled=${off || this.span === null} @click=${() => this.mark(means)}>${word}</button>`,
        )}
      </div>
      <teach-details .question=${question} .answer=${answer} .off=${off} @told=${this.told}></teach-details>
      <h3>3. What each line would read</h3>
      <teach-lines .answer=${answer} .told=${question} .off=${off} @told=${this.told}></teach-lines>
      <h3>4. A name for it</h3>
      <label class="stacked">By its form, not by its maker: “channel, sign, five digits”
        <input name="shape-title" autocomplete="off" maxlength="80" .value=${question.title} ?disabled=${off} @input=${(
          event: Event,
        ) => this.ask({ title: (event.target as HTMLInputElement).value })} />
      </label>
      ${this.renderNeeds(answer)}
      <div class="acts">
        <button type="button" class="act ${this.isNext(null) ? 'act-now' : ''}" ?disabled=${off || answer.shape === null} @click=${() => void this.keep(null)}>Keep it</button>
        ${LINKS.filter((link) => this.configFor(link) !== null).map(
          (link) =>
            html`<button type="button" class="act ${this.isNext(link) ? 'act-now' : ''}" ?disabled=${off || answer.shape === null} @click=${() => void this.keep(link)}>Keep it and use it for the ${link}</button>`,
        )}
      </div>
      ${this.kept ? html`<p role="status"><strong>${this.kept}</strong></p>` : nothing}
    `;
  }

  /** Whoever came from a search wants that device; nothing is left to do once it is kept. */
  private isNext(link: LinkName | null): boolean {
    if (this.answer?.shape == null || this.kept !== '') return false;
    return link === (this.from?.link ?? null);
  }

  /** A device that stood still while it was looked for has sent one line over and over. */
  private renderListenOn(from: TeachFrom) {
    if (this.listensOn) {
      return html`<p role="status"><strong>Listening on.</strong> Move the stylus, stop, move it again: lines that differ are taken by themselves.</p>`;
    }
    const { link } = from;
    const isSet = this.screen.state.links[link].config !== null;
    const label = isSet
      ? `Close the ${link} that is connected, and listen on`
      : 'Listen on and take more lines';
    return html`<div class="acts">${doButton(this.screen, label, () => void this.listenOn(from), { look: 'now' })}</div>`;
  }

  /** Opens the device by whatever shape, so that its bytes come, and looks at them until lines differ. */
  private async listenOn(from: TeachFrom): Promise<void> {
    const { link } = from;
    const config = { ...this.configFor(link)!, shape: this.shapes[0]?.name ?? '' };
    const opened = await this.handle.command({ kind: 'connect', link, config });
    if (!opened.ok) return;
    this.listensOn = true;
    const endMs = performance.now() + LISTENS_ON_MS;
    const goesOn = () => this.from === from && this.isConnected && performance.now() < endMs;
    while (goesOn() && (this.answer?.lines.length ?? 0) < LINES_WANTED) {
      await new Promise((resolve) => setTimeout(resolve, LOOKS_AGAIN_MS));
      const bytes = await fetchBytes(link);
      if (bytes.ok && bytes.value !== '' && goesOn()) await this.ask({ captured: bytes.value });
    }
    this.listensOn = false;
    await this.focusBeginning();
  }

  private async focusBeginning(): Promise<void> {
    await this.updateComplete;
    this.querySelector<HTMLElement>('.teach-begins')?.focus();
  }

  private renderNeeds({ needs }: TeachAnswer) {
    if (needs.length === 0) return nothing;
    return html`<div role="status">
      <p class="do-now ${this.answer?.lines.length === 0 ? 'teach-begins' : ''}" tabindex="-1">Still wanting:</p>
      <ul class="needs">${needs.map((need) => html`<li>${need}</li>`)}</ul>
    </div>`;
  }

  /** How this device is read now, or where it was found. */
  private configFor(link: LinkName): LinkConfig | null {
    if (this.from?.link !== link) return this.screen.state.links[link].config;
    const { source } = this.from.unread;
    return { source, shape: '', unit: 'as sent', channel: null };
  }

  private placeOf({ link }: TeachFrom): string {
    return sourceWords(this.configFor(link), this.screen.state.ports.ports);
  }

  private captured(change: Partial<TeachQuestion>): void {
    if (change.captured !== this.question.captured) this.from = null;
    // Other lines: what was told of the old ones says nothing of these.
    const { title, trigger, request, unit } = this.question;
    this.question = { ...emptyQuestion(), title, trigger, request, unit };
    const link = this.from?.link ?? LINKS.find((name) => this.configFor(name) !== null);
    const source = link && this.configFor(link)?.source;
    this.kept = '';
    void this.ask({ ...change, port: source ? portSettingsOf(source) : null });
  }

  private readonly told = (event: CustomEvent<Partial<TeachQuestion>>): void => {
    void this.ask(event.detail);
  };

  private mark(means: Mark['means'] | 'fixed'): void {
    const { span, answer } = this;
    if (span === null || answer === null) return;
    const others = answer.marks.filter(({ from, to }) => to <= span.from || from >= span.to);
    const marks = means === 'fixed' ? others : [...others, { ...span, means }];
    this.cells?.clear();
    this.span = null;
    void this.ask({ marks });
  }

  /** Asks the service what it makes of it now; an answer that was overtaken is not shown. */
  private async ask(change: Partial<TeachQuestion>): Promise<void> {
    this.question = { ...this.question, ...change };
    this.asks += 1;
    const mine = this.asks;
    const answer = await tryShape(this.question);
    if (mine !== this.asks) return;
    this.why = answer.ok ? '' : `The lines could not be looked at: ${answer.why}.`;
    if (answer.ok) this.answer = answer.value;
  }

  private async keep(link: LinkName | null): Promise<void> {
    const shape = this.answer?.shape;
    if (!shape) return;
    const kept = await this.handle.command({ kind: 'keep shape', shape, over: false });
    if (!kept.ok) {
      this.kept = `${kept.fault.what} ${kept.fault.remedy}`;
      return;
    }
    this.kept = kept.note;
    this.dispatchEvent(new CustomEvent('shapes-changed', { bubbles: true }));
    const config = link && this.configFor(link);
    if (!config || !link) return;
    const saysUnit = this.answer?.marks.some(({ means }) => means === 'unit' || means === 'flags');
    const unit = saysUnit || this.question.unit !== null ? 'as sent' : config.unit;
    const used = await this.handle.command({
      kind: 'connect',
      link,
      config: { ...config, shape: shape.name, unit, channel: null },
    });
    if (!used.ok) return;
    this.kept = `${kept.note} The ${link} is read by it now.`;
    // What was not found then is found now.
    if (this.from !== null) await this.handle.command({ kind: 'stop find' });
    this.from = null;
  }
}
