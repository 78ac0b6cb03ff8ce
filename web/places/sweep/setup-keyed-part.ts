import { type KeyedAs, leadUnitOf } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { quantityOf } from '../../parts/controls/quantity-field.ts';
import type { Screen } from '../../state/latest-state.ts';
import '../../parts/controls/quantity-field.ts';

/** Half a thousandth of an inch: the commonest dial beside a manual machine. */
const USUAL_GRADUATION_MM = 0.0127;

/** What a typed reading means. */
@customElement('setup-keyed-part')
export class SetupKeyedPart extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { setup } = this.screen.state;
    const { keyedAs, displayUnit } = setup;
    const off = !this.screen.mayCommand;
    const chosen = keyedAs.kind === 'divisions' ? 'divisions' : `${keyedAs.kind} ${keyedAs.unit}`;
    return html`
      ${choiceRow(
        'Typed readings are',
        [
          { value: 'length in', label: 'inches' },
          { value: 'length mm', label: 'millimetres' },
          { value: 'thousandths in', label: 'thousandths' },
          { value: 'thousandths mm', label: 'microns' },
          { value: 'divisions', label: 'dial divisions' },
        ],
        chosen,
        off,
        (value) => this.change(keyedAsOf(value)),
      )}
      ${
        keyedAs.kind === 'divisions'
          ? html`<quantity-field
              .label=${'One division is'}
              .unit=${displayUnit}
              .value=${keyedAs.graduationMm}
              .disabled=${off}
              @quantity=${(event: Event) => this.change({ kind: 'divisions', graduationMm: quantityOf(event) })}
            ></quantity-field>`
          : nothing
      }
      ${choiceRow(
        'A lead that types sends',
        [
          { value: 'in', label: 'inches' },
          { value: 'mm', label: 'millimetres' },
        ],
        leadUnitOf(setup),
        off,
        (leadUnit) => void this.handle.command({ kind: 'change setup', change: { leadUnit } }),
      )}
    `;
  }

  private change(keyedAs: KeyedAs): void {
    void this.handle.command({ kind: 'change setup', change: { keyedAs } });
  }
}

function keyedAsOf(value: string): KeyedAs {
  const unit = value.endsWith(' mm') ? 'mm' : 'in';
  if (value === 'divisions') return { kind: 'divisions', graduationMm: USUAL_GRADUATION_MM };
  return { kind: value.startsWith('length') ? 'length' : 'thousandths', unit };
}
