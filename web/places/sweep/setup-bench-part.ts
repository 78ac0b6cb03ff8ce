import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { actButton } from '../../parts/controls/act-button.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { quantityOf, quantityOrNull } from '../../parts/controls/quantity-field.ts';
import { SetupPart } from './setup-part.ts';
import '../../parts/controls/quantity-field.ts';
import './setup-indicator-part.ts';

/** Where the vise turns, where the mallet strikes, how the vise is built. Set once, rarely looked at again. */
@customElement('setup-bench-part')
export class SetupBenchPart extends SetupPart {
  override render() {
    const { setup } = this;
    const { pivot, vise } = setup;
    return html`
      <p class="field-note">All positions are from the left end of the swept length, to the right positive.</p>
      <h3>Pivot and mallet</h3>
      <div class="setup-grid">
        ${choiceRow(
          'The vise turns about',
          [
            { value: 'left clamp', label: 'left clamp' },
            { value: 'right clamp', label: 'right clamp' },
            { value: 'swivel centre', label: 'swivel centre' },
            { value: 'typed', label: 'typed place' },
          ] as const,
          pivot.choice,
          this.off,
          (choice) => this.change({ pivot: { ...pivot, choice } }),
        )}
        ${pivot.choice === 'typed' ? this.length('Pivot at', pivot.typedMm, (typedMm) => this.change({ pivot: { ...pivot, typedMm } })) : nothing}
        ${this.length('Known to within ±', pivot.uncertaintyMm, (uncertaintyMm) => this.change({ pivot: { ...pivot, uncertaintyMm } }))}
        <quantity-field
          .label=${'Pivot behind the bar by'}
          .unit=${setup.displayUnit}
          .value=${pivot.acrossMm}
          .mayBeEmpty=${true}
          .disabled=${this.off}
          @quantity=${(event: Event) => this.change({ pivot: { ...pivot, acrossMm: quantityOrNull(event) } })}
        ></quantity-field>
        ${choiceRow(
          'Learn it from sweeps',
          [
            { value: true, label: 'learn' },
            { value: false, label: 'as declared' },
          ],
          pivot.learn,
          this.off,
          (learn) => this.change({ pivot: { ...pivot, learn } }),
        )}
        ${
          this.screen.state.pivot.inUse === 'learned'
            ? actButton(this.screen, this.handle, 'Forget the learned pivot', {
                kind: 'forget learned pivot',
              })
            : nothing
        }
        ${this.length('Mallet strikes at', setup.malletMm, (malletMm) => this.change({ malletMm }))}
      </div>
      <setup-indicator-part .handle=${this.handle} .screen=${this.screen}></setup-indicator-part>
      <h3>Vise and axis</h3>
      <div class="setup-grid">
        ${this.length('Left end of the vise', vise.leftEndMm, (leftEndMm) => this.change({ vise: { ...vise, leftEndMm } }))}
        ${this.length('Right end of the vise', vise.rightEndMm, (rightEndMm) => this.change({ vise: { ...vise, rightEndMm } }))}
        ${this.length('Left clamp', vise.leftClampMm, (leftClampMm) => this.change({ vise: { ...vise, leftClampMm } }))}
        ${this.length('Right clamp', vise.rightClampMm, (rightClampMm) => this.change({ vise: { ...vise, rightClampMm } }))}
        ${this.length('Swivel centre', vise.swivelCentreMm, (swivelCentreMm) => this.change({ vise: { ...vise, swivelCentreMm } }))}
        ${choiceRow(
          'Swept along',
          [
            { value: 'x', label: 'X, left and right' },
            { value: 'y', label: 'Y, near and far' },
          ] as const,
          setup.axis,
          this.off,
          (axis) => this.change({ axis }),
        )}
        <quantity-field
          .label=${'Angle the line is to have'}
          .kind=${'angle'}
          .value=${Math.atan(setup.targetSlope)}
          .note=${'0 unless the job sets one; counter-clockwise positive'}
          .disabled=${this.off}
          @quantity=${(event: Event) => this.change({ targetSlope: Math.tan(quantityOf(event)) })}
        ></quantity-field>
      </div>
    `;
  }
}
