import type { Command, Fault, LengthUnit } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { isWriting, KeyBurst, keyDownOf, plainTyped } from '../../view/key-burst.ts';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';
import type { TypedReading } from './keyed-doubt.ts';
import './keyed-doubt.ts';

/** Longest typed reading the service takes. */
const LONGEST_KEYED = 40;

type Hint = 'none' | 'nothing typed' | 'went nowhere' | 'lead went nowhere' | 'pasted';

/**
 * Where typed readings land, and nowhere else: from the keyboard, or from an indicator lead that types. Enter
 * or Tab takes; Tab in an empty box goes on as everywhere, so the box is no trap. A lead that types while the
 * box is not chosen can press no button: its Enter is caught. What the service doubts is asked about here.
 */
@customElement('capture-box')
export class CaptureBox extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  /** What is told to the bench with a reading. */
  @property({ attribute: false }) commandOf!: (typed: TypedReading) => Command;
  @property({ attribute: false }) label = 'Reading';
  @property({ attribute: false }) note = '';
  @property({ attribute: false }) disabled = false;
  @state() private hint: Hint = 'none';
  @state() private fromLead = false;
  @state() private focused = false;
  /** What was refused last, where it can be answered. */
  @state() private doubted: { fault: Fault; typed: TypedReading } | null = null;
  @query('input') private box!: HTMLInputElement | null;
  private readonly burst = new KeyBurst();
  private readonly stray = new KeyBurst();

  override connectedCallback(): void {
    super.connectedCallback();
    // Before any button sees it: the Enter of a lead must not press what happens to be chosen.
    document.addEventListener('keydown', this.onStrayKey, { capture: true });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    document.removeEventListener('keydown', this.onStrayKey, { capture: true });
  }

  override firstUpdated(): void {
    if (!this.disabled) this.box?.focus({ preventScroll: true });
  }

  /** Takes what stands in the box, as the big button does. */
  take(endedByLead = false): void {
    const { box } = this;
    if (box === null || this.disabled) return;
    const fromLead = endedByLead || this.burst.isAllOf(box.value);
    const text = plainTyped(fromLead ? this.burst.text : box.value);
    this.burst.clear();
    box.focus({ preventScroll: true });
    this.hint = text === '' ? 'nothing typed' : 'none';
    if (text === '') return;
    box.value = '';
    void this.send({ keyed: text, ...(fromLead && { lead: true }) });
  }

  private async send(typed: TypedReading): Promise<void> {
    this.doubted = null;
    this.fromLead = false;
    const answer = await this.handle.command(this.commandOf(typed));
    this.fromLead = answer.ok && typed.lead === true;
    this.doubted = answer.ok ? null : { fault: answer.fault, typed };
  }

  /** The display was looked at: the lead is read in this unit from now on, this reading first. */
  private async sayUnit(leadUnit: LengthUnit, typed: TypedReading): Promise<void> {
    const answer = await this.handle.command({ kind: 'change setup', change: { leadUnit } });
    if (answer.ok) await this.send(typed);
  }

  override render() {
    return html`
      <label for="capture">${this.label}</label>
      <input
        id="capture"
        class="capture"
        inputmode="text"
        autocomplete="off"
        spellcheck="false"
        maxlength=${LONGEST_KEYED}
        ?disabled=${this.disabled}
        aria-describedby="capture-note"
        @keydown=${this.onKey}
        @input=${this.onInput}
        @focus=${this.onFocus}
        @blur=${this.onBlur}
        @paste=${this.onPaste}
        @drop=${this.onPaste}
      />
      <p id="capture-note" class="field-note">
        ${this.focused ? html`<strong>Readings land here.</strong> Enter or Tab takes. ${this.note}` : html`Touch the box before keying. ${this.note}`}
        ${this.fromLead ? html`The last one came from a lead.` : nothing}
      </p>
      ${this.renderHint()}
      ${this.renderDoubted()}
    `;
  }

  private renderDoubted() {
    const { doubted } = this;
    if (doubted === null) return nothing;
    const { fault, typed } = doubted;
    return html`<keyed-doubt
      .fault=${fault}
      .typed=${typed}
      .disabled=${this.disabled}
      @again=${(event: CustomEvent<TypedReading>) => void this.send(event.detail)}
      @unit=${(event: CustomEvent<LengthUnit>) => void this.sayUnit(event.detail, typed)}
      @leave=${() => {
        this.doubted = null;
        this.box?.focus({ preventScroll: true });
      }}
    ></keyed-doubt>`;
  }

  private renderHint() {
    switch (this.hint) {
      case 'none':
        return nothing;
      case 'nothing typed':
        return html`<p class="field-why" role="alert">Nothing is typed yet, so nothing was taken. Type what the dial shows.</p>`;
      case 'pasted':
        return html`<p class="field-why" role="alert">Pasted text is not taken: a reading is keyed, or comes from the lead.</p>`;
      case 'lead went nowhere':
        return html`<p class="field-why" role="alert">A lead sent a reading while the box was not chosen; it was not taken. The box is chosen now: press the lead’s key again.</p>`;
      case 'went nowhere':
        return html`<p class="field-why" role="alert">
          Typed characters went nowhere: the box was not chosen.
          <button type="button" class="act" @click=${() => this.box?.focus()}>Choose the box</button>
        </p>`;
    }
  }

  private readonly onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (isWriting(event)) {
      // Held down: the digits would be doubled.
      if (event.repeat) event.preventDefault();
      else this.burst.push(keyDownOf(event));
      return;
    }
    if (event.key === 'Backspace' || event.key === 'Delete') this.burst.clear();
    const takes = event.key === 'Enter' || (event.key === 'Tab' && !event.shiftKey);
    if (!takes || (event.key === 'Tab' && this.box?.value.trim() === '')) return;
    event.preventDefault();
    // What stood in the box before a burst was typed by a hand, and is not the lead's.
    if (!event.repeat) this.take(this.burst.isLead(event.timeStamp));
  };

  private readonly onPaste = (event: Event): void => {
    event.preventDefault();
    this.hint = 'pasted';
  };

  private readonly onInput = (): void => {
    if (this.hint !== 'none') this.hint = 'none';
  };

  private readonly onFocus = (): void => {
    this.focused = true;
    if (this.hint === 'went nowhere') this.hint = 'none';
  };

  private readonly onBlur = (): void => {
    this.focused = false;
  };

  private readonly onStrayKey = (event: KeyboardEvent): void => {
    if (this.disabled || event.ctrlKey || event.altKey || event.metaKey || event.repeat) return;
    const target = event.target as HTMLElement;
    if (target.closest('input, textarea, select') !== null) return;
    if (isWriting(event)) {
      this.stray.push(keyDownOf(event));
      if (/^[0-9.,+\-−]$/.test(event.key)) this.hint = 'went nowhere';
      return;
    }
    if (event.key !== 'Enter' && event.key !== 'Tab') return;
    if (!this.stray.isLead(event.timeStamp)) return;
    this.stray.clear();
    event.preventDefault();
    event.stopPropagation();
    this.hint = 'lead went nowhere';
    this.box?.focus({ preventScroll: true });
  };
}
