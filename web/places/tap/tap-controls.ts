import { type Command, formatLength, type TapSection } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { actButton, doButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { quantityOf } from '../../parts/controls/quantity-field.ts';
import type { CaptureBox } from '../../parts/keying/capture-box.ts';
import type { TypedReading } from '../../parts/keying/keyed-doubt.ts';
import type { Screen } from '../../state/latest-state.ts';
import { sideWords } from '../../view/words.ts';
import '../../parts/keying/capture-box.ts';
import '../../parts/controls/quantity-field.ts';

const tapReading = (typed: TypedReading): Command => ({ kind: 'tap reading', ...typed });

/** Parking the stylus, keying what the dial shows after each tap, and leaving for the next sweep. */
@customElement('tap-controls')
export class TapControls extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private parkMm: number | null = null;
  /** Where the readout says the stylus stands; null: no readout tells. */
  @state() private readoutMm: number | null = null;
  private leave: (() => void) | null = null;
  @query('capture-box') private captureBox!: CaptureBox | null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.leave = this.handle.loop.add((latest) => {
      const xMm = latest.state?.setup.way === 'readout' ? latest.state.live.xMm : null;
      // To a hundredth of a millimetre: a parked stylus must not redraw the page with the count's last digit.
      const readoutMm = xMm === null ? null : Math.round(xMm * 100) / 100;
      if (readoutMm !== this.readoutMm) this.readoutMm = readoutMm;
    });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.leave?.();
  }

  override render() {
    const { tap, sweep } = this.screen.state;
    if (tap !== null) return this.renderTapping(tap);
    if (sweep === null || sweep.result === null) {
      return html`<p class="do-now">There is no line to tap to yet. Sweep the bar first.</p>
        <div class="acts"><a class="act act-now act-big" href="#sweep">Go to the sweep</a></div>`;
    }
    return this.renderPark();
  }

  private renderPark() {
    const { setup, sweep } = this.screen.state;
    const outdated = sweep !== null && sweep.outdated !== '';
    const unit = setup.displayUnit;
    const decimals = unit === 'in' ? 3 : 1;
    const places = [...new Set(setup.stationsMm)].sort((a, b) => a - b);
    const chosen = this.readoutMm ?? this.parkMm ?? this.farthestFromPivot(places);
    return html`
      <p class="do-now">
        Where does the stylus stand, from the ${sideWords(setup.axis).low} end? Farther from the pivot tells more.
        ${this.readoutMm === null ? nothing : html`<strong>The readout says ${formatLength(this.readoutMm, unit, { decimals })}.</strong>`}
      </p>
      <div class="park-places" role="group" aria-label="Where the stylus stands">
        ${places.map(
          (xMm) => html`<button
            type="button"
            class="choice"
            aria-pressed=${xMm === chosen}
            ?disabled=${!this.screen.mayCommand}
            @click=${() => {
              this.parkMm = xMm;
            }}
          >${formatLength(xMm, unit, { decimals })}</button>`,
        )}
        <quantity-field
          .label=${'or typed'}
          .unit=${unit}
          .value=${chosen}
          .disabled=${!this.screen.mayCommand}
          @quantity=${(event: Event) => {
            this.parkMm = quantityOf(event);
          }}
        ></quantity-field>
        ${
          this.isKeyed()
            ? html`<capture-box
                .label=${'What the dial shows there'}
                .disabled=${!this.screen.mayCommand}
                .handle=${this.handle}
                .commandOf=${(typed: TypedReading): Command => ({ kind: 'park', xMm: chosen, ...typed })}
              ></capture-box>`
            : nothing
        }
        ${doButton(
          this.screen,
          'It is parked',
          () => (this.isKeyed() ? this.captureBox?.take() : this.park(chosen)),
          { look: outdated ? 'plain' : 'now', big: !outdated },
        )}
        ${doButton(this.screen, 'Sweep again', this.sweepAgain, { look: outdated ? 'now' : 'plain', big: outdated })}
      </div>
    `;
  }

  private renderTapping(tap: TapSection) {
    return html`
      <div class="acts">
        ${
          this.isKeyed()
            ? html`<capture-box
                .label=${'What the dial shows after the tap'}
                .disabled=${!this.screen.mayCommand}
                .handle=${this.handle}
                .commandOf=${tapReading}
              ></capture-box>
              ${doButton(this.screen, 'Take', () => this.captureBox?.take(), {
                big: true,
                look: tap.standing === 'stop' ? 'plain' : 'now',
                keys: 'Enter',
              })}`
            : nothing
        }
        ${doButton(this.screen, 'Sweep again', this.sweepAgain, { big: tap.standing === 'stop', look: tap.standing === 'stop' ? 'now' : 'plain' })}
        ${actButton(this.screen, this.handle, 'Park elsewhere', { kind: 'leave tap' })}
        ${actButton(this.screen, this.handle, 'Zero was moved', { kind: 'zero moved' })}
      </div>
    `;
  }

  private isKeyed(): boolean {
    return this.screen.state.links.indicator.state === 'not set';
  }

  private farthestFromPivot(places: readonly number[]): number {
    const pivotMm = this.screen.state.pivot.xMm;
    return places.reduce((best, place) =>
      Math.abs(place - pivotMm) > Math.abs(best - pivotMm) ? place : best,
    );
  }

  private park(xMm: number): void {
    void this.handle.command({ kind: 'park', xMm });
  }

  private readonly sweepAgain = async (): Promise<void> => {
    const answer = await this.handle.command({ kind: 'begin sweep' });
    if (answer.ok) location.hash = 'sweep';
  };
}
