import { type Fault, formatLength, type LengthUnit, type Setup, toMm } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { actButton, doButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { quantityOf } from '../../parts/controls/quantity-field.ts';
import type { TypedReading } from '../../parts/keying/keyed-doubt.ts';
import type { Screen } from '../../state/latest-state.ts';
import { isWriting, KeyBurst, keyDownOf, plainTyped } from '../../view/key-burst.ts';
import '../../parts/keying/keyed-doubt.ts';
import '../../parts/controls/quantity-field.ts';

/** Usual nudges: large against a dial's error, small against its range (0.005 in or 0.1 mm). */
const USUAL_NUDGES = [
  { value: toMm(0.005, 'in'), label: '0.005 in' },
  { value: 0.1, label: '0.1 mm' },
] as const;

type NudgeName = 'y' | 'x';

/** The two nudges before the first sweep, one small step at a time. */
@customElement('nudge-guide')
export class NudgeGuide extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private movedMm: number = USUAL_NUDGES[0].value;
  @state() private typed = '';
  @state() private typeFirst = false;
  @state() private doubted: { fault: Fault; typed: TypedReading; what: 'begin' | 'finish' } | null =
    null;
  private readonly burst = new KeyBurst();
  /** The readout's other axis says how far; only where it is listened to. */
  @state() private byReadout = true;

  override render() {
    const { setup, nudges } = this.screen.state;
    const ySettled = nudges.y.state === 'done' || nudges.y.state === 'skipped';
    return html`<section class="nudges" aria-label="Nudges before the first sweep">
      ${this.renderY()} ${setup.way === 'readout' && ySettled ? this.renderX() : nothing}
    </section>`;
  }

  private renderY() {
    const { nudges } = this.screen.state;
    const { state: step, finding, remembered } = nudges.y;
    if (step === 'done' || step === 'skipped')
      return this.renderSettled('y', step, finding, remembered);
    const waiting = step === 'waiting for the move';
    const { slide, way, handle } = nudgeWords(this.screen.state.setup.axis);
    return html`<div class="step">
      <h2>First nudge: the ${slide} <small>settles which way the dial counts, its unit and its scale</small></h2>
      ${
        waiting
          ? html`<p class="do-now">
              Now move the ${slide} so that the jaw goes <strong>${way}</strong>, by
              ${this.readsTravel() ? html`about <strong>${this.amountText()}</strong>; the readout says how far it was` : html`exactly <strong>${this.amountText()}</strong>`}. Come from the other side, so that the
              backlash is already taken up.
            </p>`
          : html`<p class="do-now">
                Stylus on the bar, a few thousandths of preload. Take the backlash up by turning the ${slide}
                handle so that it goes <strong>${handle}</strong> until the needle just moves. Then begin.
              </p>
              `
      }
      <div class="amount">
        ${waiting ? nothing : this.renderAmount()} ${this.renderByReadout()}
        ${this.renderKeyed(waiting ? 'What the dial shows after the move' : 'What the dial shows now')}
        ${
          waiting
            ? doButton(this.screen, `The ${slide} has moved`, () => this.send('finish', 'y'), {
                look: 'now',
                big: true,
              })
            : doButton(this.screen, 'Begin the nudge', () => this.send('begin', 'y'), {
                look: 'now',
                big: true,
              })
        }
        ${actButton(this.screen, this.handle, 'Skip it', { kind: 'skip nudge', nudge: 'y' })}
      </div>
      <p class="field-note">
        Skipped: the way the dial counts must then be set by hand below, a wrong scale goes unnoticed, and
        every result says that the nudge was skipped.
      </p>
    </div>`;
  }

  private renderX() {
    const { state: step, finding, remembered } = this.screen.state.nudges.x;
    if (step === 'done' || step === 'skipped')
      return this.renderSettled('x', step, finding, remembered);
    const along = alongWords(this.screen.state.setup.axis);
    const waiting = step === 'waiting for the move';
    return html`<div class="step">
      <h2>Second nudge: the ${along.slide} <small>settles which way the readout counts along the bar</small></h2>
      <p class="do-now">
        ${
          waiting
            ? html`Now move the ${along.slide} <strong>${along.way}</strong> by a turn or so, by hand. The stylus then
                stands nearer the ${along.end} end.`
            : html`Leave room to move the ${along.slide} ${along.way}. Then begin.`
        }
      </p>
      <div class="acts">
        ${actButton(
          this.screen,
          this.handle,
          waiting ? `The ${along.slide} has moved` : 'Begin the nudge',
          waiting ? { kind: 'finish nudge', nudge: 'x' } : { kind: 'begin nudge', nudge: 'x' },
          { look: 'now', big: true },
        )}
        ${actButton(this.screen, this.handle, 'Skip it', { kind: 'skip nudge', nudge: 'x' })}
      </div>
      <p class="field-note">
        Skipped: left and right come from the marks of the two ends alone, and every result says so.
      </p>
    </div>`;
  }

  private renderSettled(nudge: NudgeName, step: string, finding: string, remembered: boolean) {
    return html`<p class="settled">
      <span><strong>${(nudge === 'y') === (this.screen.state.setup.axis === 'x') ? 'Saddle' : 'Table'} nudge ${step}${remembered ? ', remembered' : ''}.</strong>
        ${finding}</span>
      ${actButton(this.screen, this.handle, 'Do it again', { kind: 'forget nudge', nudge })}
    </p>`;
  }

  private renderAmount() {
    const { setup } = this.screen.state;
    return html`${choiceRow(
      'How far',
      USUAL_NUDGES,
      this.movedMm,
      !this.screen.mayCommand,
      (value) => {
        this.movedMm = value;
      },
    )}
      <quantity-field
        .label=${'or typed'}
        .unit=${setup.displayUnit}
        .value=${this.movedMm}
        .disabled=${!this.screen.mayCommand}
        @quantity=${(event: Event) => {
          this.movedMm = quantityOf(event);
        }}
      ></quantity-field>`;
  }

  /** The other axis of the readout is heard: it measures the move. */
  private readsTravel(): boolean {
    return this.byReadout && (this.screen.state.live.second ?? null) !== null;
  }

  private renderByReadout() {
    if ((this.screen.state.live.second ?? null) === null) return nothing;
    return choiceRow(
      'How far it was is',
      [
        { value: true, label: 'read from the readout' },
        { value: false, label: 'as said' },
      ],
      this.byReadout,
      !this.screen.mayCommand,
      (byReadout) => {
        this.byReadout = byReadout;
      },
    );
  }

  private amountText(): string {
    const usual = USUAL_NUDGES.find(({ value }) => value === this.movedMm);
    return usual?.label ?? formatLength(this.movedMm, this.screen.state.setup.displayUnit);
  }

  private isKeyed(): boolean {
    const { setup, links } = this.screen.state;
    return (
      links.indicator.state === 'not set' || (setup.way === 'stations' && setup.entry === 'keyed')
    );
  }

  private needsTyping(): boolean {
    return this.isKeyed() && this.typed.trim() === '';
  }

  private renderKeyed(label: string) {
    if (!this.isKeyed()) return nothing;
    return html`<label class="stacked">${label}
      <input
        class="keyed-nudge"
        autocomplete="off"
        maxlength="40"
        .value=${this.typed}
        ?disabled=${!this.screen.mayCommand}
        @input=${(event: Event) => {
          this.typed = (event.target as HTMLInputElement).value;
          this.typeFirst = false;
        }}
        @keydown=${(event: KeyboardEvent) => {
          if (isWriting(event)) this.burst.push(keyDownOf(event));
          if (event.key === 'Backspace' || event.key === 'Delete') this.burst.clear();
          if (event.key !== 'Enter' || event.repeat) return;
          const waiting = this.screen.state.nudges.y.state === 'waiting for the move';
          void this.send(waiting ? 'finish' : 'begin', 'y');
        }}
      />
      ${this.typeFirst ? html`<span class="field-why" role="alert">Type what the dial shows first.</span>` : nothing}
    </label>
    ${this.renderDoubted()}`;
  }

  private renderDoubted() {
    if (this.doubted === null) return nothing;
    const { fault, typed, what } = this.doubted;
    return html`<keyed-doubt
      .fault=${fault}
      .typed=${typed}
      .disabled=${!this.screen.mayCommand}
      @again=${(event: CustomEvent<TypedReading>) => void this.tell(what, 'y', event.detail)}
      @unit=${async (event: CustomEvent<LengthUnit>) => {
        const change = { leadUnit: event.detail };
        const answer = await this.handle.command({ kind: 'change setup', change });
        if (answer.ok) await this.tell(what, 'y', typed);
      }}
      @leave=${() => {
        this.doubted = null;
      }}
    ></keyed-doubt>`;
  }

  private async send(what: 'begin' | 'finish', nudge: NudgeName): Promise<void> {
    this.typeFirst = this.needsTyping();
    if (this.typeFirst) {
      this.querySelector<HTMLInputElement>('.keyed-nudge')?.focus();
      return;
    }
    await this.tell(what, nudge, this.isKeyed() ? this.typedReading() : null);
  }

  private async tell(
    what: 'begin' | 'finish',
    nudge: NudgeName,
    typed: TypedReading | null,
  ): Promise<void> {
    const keyed = typed ?? {};
    const answer = await this.handle.command(
      what === 'begin'
        ? { kind: 'begin nudge', nudge, ...keyed }
        : {
            kind: 'finish nudge',
            nudge,
            ...(this.readsTravel() ? {} : { movedMm: this.movedMm }),
            ...keyed,
          },
    );
    // What a lead typed must not be sent once more as a hand's.
    if (answer.ok || typed?.lead) this.typed = '';
    this.burst.clear();
    this.doubted = answer.ok || typed === null ? null : { fault: answer.fault, typed, what };
  }

  private typedReading(): TypedReading {
    if (this.burst.isAllOf(this.typed)) return { keyed: plainTyped(this.burst.text), lead: true };
    return { keyed: this.typed.trim() };
  }
}

/** Swept along Y the indicator looks across, so it is the table that moves the surface under it. */
function nudgeWords(axis: Setup['axis']): { slide: string; way: string; handle: string } {
  return axis === 'x'
    ? { slide: 'saddle', way: 'away from you', handle: 'away from you' }
    : { slide: 'table', way: 'to your left', handle: 'to your left' };
}

function alongWords(axis: Setup['axis']): { slide: string; way: string; end: string } {
  return axis === 'x'
    ? { slide: 'table', way: 'to your right', end: 'left' }
    : { slide: 'saddle', way: 'away from you', end: 'near' };
}
