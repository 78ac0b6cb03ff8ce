import type { PlanQuestion } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlanPart } from './plan-part.ts';
import { COMMON_BARS, commonBarOf } from './view/plan-words.ts';

type Bar = NonNullable<PlanQuestion['bar']>;

const FIRST_BAR: Bar = {
  length: '5in',
  lengthIs: 'nominal',
  lengthUncertainty: null,
  rollDiameter: null,
};

const orNull = (text: string): string | null => (text === '' ? null : text);

/** The bar, how well its length is known, and whether it stands on the jaw at this angle. */
@customElement('plan-bar-part')
export class PlanBarPart extends PlanPart {
  override render() {
    const { question, answer } = this.plan;
    const bar = question.bar ?? FIRST_BAR;
    const fit = answer?.jawFit ?? null;
    return html`<section class="plan-question" aria-label="Bar">
      <h2><span class="step-number">5</span> Bar and jaw</h2>
      ${choiceRow<string | null>(
        'Between the roll centres',
        COMMON_BARS.map((value) => ({ value, label: value.replace(/(in|mm)/, ' $1') })),
        commonBarOf(bar.length),
        this.off,
        (length) => this.change({ length: length! }),
      )}
      <div class="pair-of-fields">
        ${this.text('Length, as known', bar.length, (length) => this.change({ length }), {
          note: 'An odd length does as well, if it is known.',
          why: this.whyOf('bar'),
        })}
        ${choiceRow<Bar['lengthIs']>(
          'That is',
          [
            { value: 'nominal', label: 'nominal' },
            { value: 'certified', label: 'certified' },
          ],
          bar.lengthIs,
          this.off,
          (lengthIs) => this.change({ lengthIs }),
        )}
        ${
          bar.lengthIs === 'certified'
            ? this.text(
                'Certified to within ±',
                bar.lengthUncertainty,
                (text) => this.change({ lengthUncertainty: orNull(text) }),
                {
                  placeholder: 'not known',
                  mayBeEmpty: true,
                  why: this.whyOf('bar uncertainty'),
                },
              )
            : nothing
        }
        ${this.text(
          'Roll diameter',
          bar.rollDiameter,
          (text) => this.change({ rollDiameter: orNull(text) }),
          {
            placeholder: 'a tenth of the bar',
            mayBeEmpty: true,
            why: this.whyOf('roll diameter'),
          },
        )}
        ${this.text(
          'Width of the jaw',
          question.jaw.width,
          (text) =>
            void this.pen.change({ jaw: { ...this.pen.question.jaw, width: orNull(text) } }),
          { placeholder: 'not known', mayBeEmpty: true, why: this.whyOf('jaw') },
        )}
        ${this.text(
          'Length to be swept',
          question.sweptLength,
          (text) => void this.pen.change({ sweptLength: orNull(text) }),
          { placeholder: 'as the bar', mayBeEmpty: true, why: this.whyOf('swept length') },
        )}
      </div>
      ${fit === null ? nothing : html`<p class=${fit.fits === false ? 'warning' : 'said'}>${fit.sentence}</p>`}
      ${choiceRow(
        'Lengths shown in',
        [
          { value: 'in', label: 'inches' },
          { value: 'mm', label: 'millimetres' },
        ] as const,
        question.displayUnit,
        this.off,
        (displayUnit) => void this.pen.change({ displayUnit }),
      )}
    </section>`;
  }

  private change(change: Partial<Bar>): void {
    void this.pen.change({ bar: { ...(this.pen.question.bar ?? FIRST_BAR), ...change } });
  }
}
