import { formatLength, type SetupChange } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { quantityOf, quantityOrNull } from '../../parts/controls/quantity-field.ts';
import type { Screen } from '../../state/latest-state.ts';
import '../../parts/controls/quantity-field.ts';

/** The usual limit from end to end of a 5 in bar, 0.001 in: what a limit starts with when one is asked for. */
const USUAL_LIMIT_MM = 0.0254;
const USUAL_BAR_MM = 127;

/** How far out of true is allowed, and how the figure is compared with it. */
@customElement('setup-limit-part')
export class SetupLimitPart extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  private change(change: SetupChange): void {
    void this.handle.command({ kind: 'change setup', change });
  }

  override render() {
    const { limit, displayUnit, decisionRule, sweptLengthMm } = this.screen.state.setup;
    const over = formatLength(sweptLengthMm, displayUnit, {
      decimals: displayUnit === 'in' ? 2 : 1,
    });
    const off = !this.screen.mayCommand;
    return html`
      ${choiceRow(
        'Limit is given as',
        [
          { value: 'end to end', label: 'end to end' },
          { value: 'angle', label: 'angle' },
          { value: 'none', label: 'none' },
        ] as const,
        limit?.kind ?? 'none',
        off,
        (kind) =>
          this.change({
            limit:
              kind === 'none'
                ? null
                : kind === 'angle'
                  ? { kind, rad: USUAL_LIMIT_MM / USUAL_BAR_MM }
                  : { kind, mm: USUAL_LIMIT_MM, overMm: null },
          }),
      )}
      ${
        limit?.kind === 'end to end'
          ? html`<quantity-field
                .label=${'Limit, end to end'}
                .unit=${displayUnit}
                .value=${limit.mm}
                .disabled=${off}
                @quantity=${(event: Event) => this.change({ limit: { ...limit, mm: quantityOf(event) } })}
              ></quantity-field>
              <quantity-field
                .label=${'over a length of'}
                .unit=${displayUnit}
                .value=${limit.overMm}
                .mayBeEmpty=${true}
                .emptyWord=${`swept length, ${over}`}
                .disabled=${off}
                @quantity=${(event: Event) => this.change({ limit: { ...limit, overMm: quantityOrNull(event) } })}
              ></quantity-field>`
          : nothing
      }
      ${
        limit?.kind === 'angle'
          ? html`<quantity-field
              .label=${'Limit, angle'}
              .kind=${'angle'}
              .value=${limit.rad}
              .note=${'such as 20arcsec or 1min'}
              .disabled=${off}
              @quantity=${(event: Event) => this.change({ limit: { kind: 'angle', rad: quantityOf(event) } })}
            ></quantity-field>`
          : nothing
      }
      ${choiceRow(
        'Compared',
        [
          { value: 'guarded', label: 'with the uncertainty inside the limit' },
          { value: 'plain', label: 'the figure as it is' },
        ] as const,
        decisionRule,
        off,
        (rule) => this.change({ decisionRule: rule }),
      )}
    `;
  }
}
