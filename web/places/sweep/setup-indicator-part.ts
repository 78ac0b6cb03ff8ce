import type { Setup } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { quantityOf, quantityOrNull } from '../../parts/controls/quantity-field.ts';
import { senseWords } from '../../view/words.ts';
import { SetupPart } from './setup-part.ts';
import '../../parts/controls/quantity-field.ts';

/** A lever's stylus may stand at this before its reading is a twentieth off (cos 15 degrees is 0.966). */
const USUAL_STYLUS_ANGLE_RAD = (15 * Math.PI) / 180;
/** Offered when a range is first wanted: the span of an ordinary lever indicator, 0.030 in. */
const USUAL_RANGE_MM = { lowMm: -0.381, highMm: 0.381 } as const;

/** What is known of the indicator: it feeds the uncertainty and the over-range word. */
@customElement('setup-indicator-part')
export class SetupIndicatorPart extends SetupPart {
  override render() {
    const { indicator, rises, counts } = this.setup;
    return html`
      <h3>Indicator</h3>
      <div class="setup-grid">
        ${this.known('Resolution', indicator.resolutionMm, (resolutionMm) => this.change({ indicator: { ...indicator, resolutionMm } }))}
        ${this.known('Permissible error', indicator.permissibleErrorMm, (permissibleErrorMm) => this.change({ indicator: { ...indicator, permissibleErrorMm } }))}
        ${this.known('Repeatability on this bench', indicator.repeatabilityMm, (repeatabilityMm) => this.change({ indicator: { ...indicator, repeatabilityMm } }))}
        ${this.renderRange()}
        ${choiceRow(
          'The reading rises as the bar goes',
          [
            { value: 'toward', label: senseWords(this.setup.axis).toward },
            { value: 'away', label: senseWords(this.setup.axis).away },
            { value: null, label: 'not known' },
          ],
          rises,
          this.off,
          (value) => this.change({ rises: value as Setup['rises'] }),
        )}
        ${
          this.setup.way === 'readout'
            ? choiceRow(
                'The readout rises as the stylus goes',
                [
                  { value: 1, label: 'right' },
                  { value: -1, label: 'left' },
                  { value: null, label: 'not known' },
                ],
                counts,
                this.off,
                (value) => this.change({ counts: value as Setup['counts'] }),
              )
            : nothing
        }
        ${this.renderStylus()}
      </div>
    `;
  }

  private known(label: string, value: number | null, take: (mm: number | null) => void) {
    return html`<quantity-field
      .label=${label}
      .unit=${this.setup.displayUnit}
      .value=${value}
      .mayBeEmpty=${true}
      .disabled=${this.off}
      @quantity=${(event: Event) => take(quantityOrNull(event))}
    ></quantity-field>`;
  }

  private renderRange() {
    const { indicator } = this.setup;
    const range = indicator.rangeMm;
    return html`
      ${choiceRow(
        'Range',
        [
          { value: true, label: 'known' },
          { value: false, label: 'not known' },
        ],
        range !== null,
        this.off,
        (known) =>
          this.change({ indicator: { ...indicator, rangeMm: known ? USUAL_RANGE_MM : null } }),
      )}
      ${
        range === null
          ? nothing
          : html`${this.rangeEnd('Range from', range.lowMm, (lowMm) => ({ ...range, lowMm }))}
              ${this.rangeEnd('Range to', range.highMm, (highMm) => ({ ...range, highMm }))}`
      }
    `;
  }

  private rangeEnd(
    label: string,
    value: number,
    range: (mm: number) => { lowMm: number; highMm: number },
  ) {
    return html`<quantity-field
      .label=${label}
      .unit=${this.setup.displayUnit}
      .value=${value}
      .disabled=${this.off}
      @quantity=${(event: Event) =>
        this.change({ indicator: { ...this.setup.indicator, rangeMm: range(quantityOf(event)) } })}
    ></quantity-field>`;
  }

  private renderStylus() {
    const { stylus } = this.setup;
    const factor = this.screen.state.nudges.y.factor;
    return html`
      ${choiceRow(
        'Travel is taken',
        [
          { value: 'as read', label: 'as read' },
          ...(factor === null ? [] : [{ value: 'nudge factor', label: 'by the nudge' }]),
          { value: 'stylus angle', label: 'by stylus angle' },
        ],
        stylus.kind,
        this.off,
        (kind) => {
          if (kind === 'as read') this.change({ stylus: { kind } });
          else if (kind === 'stylus angle')
            this.change({ stylus: { kind, rad: USUAL_STYLUS_ANGLE_RAD } });
          else if (factor !== null)
            this.change({ stylus: { kind: 'nudge factor', factor: Math.abs(factor) } });
        },
      )}
      ${
        stylus.kind === 'stylus angle'
          ? html`<quantity-field
              .label=${'Stylus to the bar, angle'}
              .kind=${'angle'}
              .value=${stylus.rad}
              .note=${'such as 15deg'}
              .disabled=${this.off}
              @quantity=${(event: Event) => this.change({ stylus: { kind: 'stylus angle', rad: quantityOf(event) } })}
            ></quantity-field>`
          : nothing
      }
    `;
  }
}
