import { type BudgetAssumptions, parseNumber } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { quantityOrNull } from '../../parts/controls/quantity-field.ts';
import { PlanPart } from './plan-part.ts';
import { GRADES } from './view/plan-words.ts';
import '../../parts/controls/quantity-field.ts';

type LengthName = {
  [K in keyof BudgetAssumptions]: K extends `${string}Um` ? K : never;
}[keyof BudgetAssumptions];

const LENGTHS: readonly { name: LengthName; label: string }[] = [
  { name: 'seatUm', label: 'Seat of bar and stack, ±' },
  { name: 'centreDistanceErrorUm', label: 'Distance of the roll centres, ±' },
  { name: 'rollDifferenceUm', label: 'One roll against the other, ±' },
  { name: 'faceParallelUm', label: 'Working face to roll axes, ±' },
  { name: 'indicatorErrorUm', label: 'Indicator over the range used, ±' },
  { name: 'scatterUm', label: 'Scatter of one reading, 1 s' },
  { name: 'clampingUm', label: 'Clamping, end against end, ±' },
];

const MOST_UM = 1000;

/** What the budget is told; what it is not told it assumes, and says so in its line. */
@customElement('plan-assumptions')
export class PlanAssumptions extends PlanPart {
  @state() private whys: Partial<Record<keyof BudgetAssumptions, string>> = {};

  override render() {
    const { budget, displayUnit } = this.plan.question;
    return html`<details>
      <summary>What is assumed, and what you know better</summary>
      <p class="field-note">An empty field takes the usual value, named in its line above.</p>
      <div class="setup-grid">
        <div>
          <label for="plan-grade">Grade of the blocks</label>
          <select id="plan-grade" ?disabled=${this.off} @change=${this.takeGrade}>
            <option value="" ?selected=${budget.grade === null}>as the set says</option>
            ${GRADES.map((grade) => html`<option value=${grade} ?selected=${budget.grade === grade}>${grade}</option>`)}
          </select>
        </div>
        ${LENGTHS.map(({ name, label }) => {
          const um = budget[name];
          return html`<div>
            <quantity-field
              .label=${label}
              .unit=${displayUnit}
              .value=${um === null ? null : um / 1000}
              .mayBeEmpty=${true}
              .emptyWord=${'usual value'}
              .disabled=${this.off}
              @quantity=${(event: Event) => this.takeLength(name, quantityOrNull(event))}
            ></quantity-field>
            ${this.whys[name] ? html`<p class="field-why" role="alert">${this.whys[name]}</p>` : nothing}
          </div>`;
        })}
        ${this.number('temperatureDifferenceK', 'Bar against stack, ± K', 0, 50)}
        ${this.number('stations', 'Stations of the sweep', 2, 1000)}
        ${this.number('squarenessUmPerM', 'X to Y out of square, µm per m', 0, 10_000)}
      </div>
    </details>`;
  }

  private change(change: Partial<BudgetAssumptions>): void {
    void this.pen.change({ budget: { ...this.pen.question.budget, ...change } });
  }

  private say(name: keyof BudgetAssumptions, why: string): void {
    this.whys = { ...this.whys, [name]: why };
  }

  private readonly takeGrade = (event: Event): void => {
    const value = (event.target as HTMLSelectElement).value;
    this.change({ grade: GRADES.find((grade) => grade === value) ?? null });
  };

  private takeLength(name: LengthName, mm: number | null): void {
    const fits = mm === null || (mm >= 0 && mm * 1000 <= MOST_UM);
    this.say(name, fits ? '' : 'This goes from 0 to 1 mm.');
    if (fits) this.change({ [name]: mm === null ? null : mm * 1000 });
  }

  private number(
    name: 'temperatureDifferenceK' | 'stations' | 'squarenessUmPerM',
    label: string,
    least: number,
    most: number,
  ) {
    const value = this.plan.question.budget[name];
    return this.text(
      label,
      value === null ? '' : String(value),
      (text) => {
        const parsed = parseNumber(text);
        const isWhole = name !== 'stations' || (parsed.ok && Number.isInteger(parsed.value));
        const fits =
          text === '' || (parsed.ok && isWhole && parsed.value >= least && parsed.value <= most);
        this.say(name, fits ? '' : `"${text}" does not do: a number from ${least} to ${most}.`);
        if (fits) this.change({ [name]: text === '' || !parsed.ok ? null : parsed.value });
      },
      { placeholder: 'usual value', mayBeEmpty: true, why: this.whys[name] ?? '' },
    );
  }
}
