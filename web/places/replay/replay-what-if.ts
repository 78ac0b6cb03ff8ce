import { declaredPivotMm, formatLength, type Setup, type SetupChange } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { quantityOf } from '../../parts/controls/quantity-field.ts';
import type { Screen } from '../../state/latest-state.ts';
import { senseWords } from '../../view/words.ts';
import type { ReplayHandle } from './replay-handle.ts';
import { whatIfWords } from './view/replay-words.ts';
import '../../parts/controls/quantity-field.ts';
import '../sweep/setup-limit-part.ts';

/** Another pivot, limit, stylus or sense tried on the record; nothing of it is kept. */
@customElement('replay-what-if')
export class ReplayWhatIf extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle & ReplayHandle;
  @property({ attribute: false }) screen!: Screen;

  private get setup(): Setup {
    return this.screen.state.setup;
  }

  /** A replay may not command the bench, but another setup may be tried in it. */
  private get trying(): Screen {
    const { connection, role } = this.screen;
    const may = connection.kind === 'connected' && role !== 'watcher';
    return { ...this.screen, mayCommand: may };
  }

  private change(change: SetupChange): void {
    void this.handle.command({ kind: 'change setup', change });
  }

  override render() {
    const replay = this.screen.state.replay!;
    const tried = whatIfWords(replay);
    const off = !this.trying.mayCommand;
    return html`
      ${
        tried === ''
          ? nothing
          : html`<div class="what-if-now">
              <p><strong class="what-if-word">WHAT IF</strong> another ${tried} is tried; the record stays as it is.</p>
              <button type="button" class="act" ?disabled=${off} @click=${() => void this.handle.move({ move: 'as recorded' })}>Back to as recorded</button>
            </div>`
      }
      <details>
        <summary>What if: try another limit, pivot, stylus or sense</summary>
        <div class="setup-grid">
          <setup-limit-part .handle=${this.handle} .screen=${this.trying}></setup-limit-part>
          ${this.renderPivot(off)} ${this.renderSense(off)} ${this.renderStylus(off)}
        </div>
      </details>
    `;
  }

  private renderPivot(off: boolean) {
    const { pivot } = this.setup;
    const { recordedSetup } = this.screen.state.replay!;
    const recorded = { ...this.setup, pivot: recordedSetup.pivot };
    const at = formatLength(declaredPivotMm(recorded), this.setup.displayUnit);
    return html`
      ${choiceRow(
        'The vise turns about',
        [
          { value: 'left clamp', label: 'left clamp' },
          { value: 'right clamp', label: 'right clamp' },
          { value: 'swivel centre', label: 'swivel centre' },
          { value: 'typed', label: 'typed place' },
        ] as const,
        pivot.choice,
        off,
        (choice) => this.change({ pivot: { ...pivot, choice, learn: false } }),
      )}
      ${
        pivot.choice === 'typed'
          ? html`<quantity-field
              .label=${'Pivot at'}
              .unit=${this.setup.displayUnit}
              .value=${pivot.typedMm}
              .note=${`recorded: ${at}`}
              .disabled=${off}
              @quantity=${(event: Event) => this.change({ pivot: { ...pivot, typedMm: quantityOf(event), learn: false } })}
            ></quantity-field>`
          : nothing
      }
    `;
  }

  private renderSense(off: boolean) {
    const words = senseWords(this.setup.axis);
    return choiceRow(
      'The reading rises as the bar goes',
      [
        { value: 'toward', label: words.toward },
        { value: 'away', label: words.away },
      ] as const,
      this.setup.rises ?? 'toward',
      off,
      (rises) => this.change({ rises }),
    );
  }

  private renderStylus(off: boolean) {
    const { stylus } = this.setup;
    const recorded = this.screen.state.replay!.recordedSetup.stylus;
    return html`
      ${choiceRow(
        'Travel is taken',
        [
          { value: 'as read', label: 'as read' },
          { value: 'nudge factor', label: 'by a factor' },
          { value: 'stylus angle', label: 'by stylus angle' },
        ] as const,
        stylus.kind,
        off,
        (kind) => {
          if (kind === recorded.kind) this.change({ stylus: recorded });
          else if (kind === 'as read') this.change({ stylus: { kind } });
          else if (kind === 'nudge factor') this.change({ stylus: { kind, factor: 1 } });
          else this.change({ stylus: { kind, rad: 0 } });
        },
      )}
      ${
        stylus.kind === 'stylus angle'
          ? html`<quantity-field
              .label=${'Stylus to the bar, angle'}
              .kind=${'angle'}
              .value=${stylus.rad}
              .note=${'such as 15deg'}
              .disabled=${off}
              @quantity=${(event: Event) => this.change({ stylus: { kind: 'stylus angle', rad: quantityOf(event) } })}
            ></quantity-field>`
          : nothing
      }
      ${
        stylus.kind === 'nudge factor'
          ? html`<label class="stacked">True travel per shown travel
              <input
                inputmode="decimal"
                autocomplete="off"
                .value=${String(stylus.factor)}
                ?disabled=${off}
                @change=${this.takeFactor}
              />
            </label>`
          : nothing
      }
    `;
  }

  private readonly takeFactor = (event: Event): void => {
    const factor = Number((event.target as HTMLInputElement).value.replace(',', '.'));
    if (Number.isFinite(factor) && factor > 0)
      this.change({ stylus: { kind: 'nudge factor', factor } });
    else this.requestUpdate();
  };
}
