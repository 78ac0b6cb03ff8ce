import { formatLength, type Timing } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { SetupPart } from './setup-part.ts';

const NO_TIMING: Timing = { indicatorMs: 0, readoutMs: 0, scanOffsetMs: 0, from: 'declared' };
const LONGEST_MS = 2000;

const FIELDS = [
  ['indicatorMs', 'The indicator’s readings come late by, ms'],
  ['readoutMs', 'The readout’s positions come late by, ms'],
  ['scanOffsetMs', 'Both in one box: the indicator is read after the readout by, ms'],
] as const;

/** How late each device is heard: said by hand, or measured by sweeping out and back at two speeds. */
@customElement('setup-timing-part')
export class SetupTimingPart extends SetupPart {
  @state() private why = '';

  override render() {
    const timing = this.setup.timing ?? NO_TIMING;
    return html`<details>
      <summary>Delay of the readings</summary>
      ${this.renderMeasured(timing)}
      <div class="setup-grid">
        ${FIELDS.map(
          ([name, label]) => html`<label class="stacked">${label}
            <input
              name=${name}
              inputmode="numeric"
              autocomplete="off"
              maxlength="6"
              .value=${String(Math.round(timing[name] * 10) / 10)}
              ?disabled=${this.off}
              @change=${(event: Event) => this.take(name, (event.target as HTMLInputElement).value)}
            />
          </label>`,
        )}
      </div>
      ${this.why ? html`<p class="field-why" role="alert">${this.why}</p>` : nothing}
      <p class="field-note">
        A reading is given the place at which the stylus stood when it was read, not where it stood when it came.
        ${timing.from === 'measured' ? 'In use: as measured.' : ''}
      </p>
    </details>`;
  }

  private renderMeasured(timing: Timing) {
    const { measured, whyNot } = this.screen.state.timing;
    if (measured === null) {
      return html`<p>
        To measure it, turn the vise well out of true and sweep out and back twice without touching it: once slowly,
        once at twice the speed or more. ${whyNot ? html`<br />So far: ${whyNot}` : nothing}
      </p>`;
    }
    const lagMs = Math.round(measured.lagMs);
    const isInUse = timing.from === 'measured' && Math.round(timing.indicatorMs) === lagMs;
    const play = formatLength(Math.abs(measured.playMm), this.setup.displayUnit);
    return html`
      <p>
        Measured: the indicator is heard <strong>${Math.abs(lagMs)} ms ${lagMs < 0 ? 'before' : 'after'}</strong> the readout
        (± ${Math.ceil(measured.uncertaintyMs)} ms). What remains of the loop is play, ${play} on the dial.
      </p>
      ${
        isInUse
          ? nothing
          : html`<div class="acts"><button
              type="button"
              class="act"
              ?disabled=${this.off}
              @click=${() => this.change({ timing: { ...NO_TIMING, indicatorMs: lagMs, from: 'measured' } })}
            >Use ${lagMs} ms from the next sweep on</button></div>`
      }
    `;
  }

  private take(name: keyof Omit<Timing, 'from'>, text: string): void {
    const ms = text.trim() === '' ? 0 : Number(text.replace(',', '.'));
    if (!Number.isFinite(ms) || Math.abs(ms) > LONGEST_MS) {
      this.why = `"${text}" is not a number of milliseconds up to ${LONGEST_MS} either way.`;
      return;
    }
    this.why = '';
    this.change({ timing: { ...(this.setup.timing ?? NO_TIMING), [name]: ms, from: 'declared' } });
  }
}
