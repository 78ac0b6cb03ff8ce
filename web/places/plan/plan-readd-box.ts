import {
  type Command,
  formatAngle,
  type GaugeBlock,
  radiansFromArcsec,
  type TakenCheck,
} from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { PlanPart } from './plan-part.ts';
import { blocksOf } from './view/plan-words.ts';

type Under = NonNullable<Extract<Command, { kind: 'blocks taken' }>['under']>;

/** Adds up, or does not: told by shape before it is read. */
const ADDS_SHAPE = 'M8 32l12 12L52 12l6 6-38 38L2 38z';
const WRONG_SHAPE = 'M8 16l8-8 16 16L48 8l8 8-16 16 16 16-8 8-16-16-16 16-8-8 16-16z';

let boxesMade = 0;

/** The blocks taken for one stack: keyed, or ticked off in the case, and what they add up to. */
@customElement('plan-readd-box')
export class PlanReaddBox extends PlanPart {
  @property({ attribute: false }) under: Under = 'raised roll';
  /** Where the stack goes, where there are two of them. */
  @property({ attribute: false }) where = '';
  @query('input') private box!: HTMLInputElement | null;

  private readonly boxId = `taken-${++boxesMade}`;

  private get taken(): readonly string[] {
    return this.under === 'raised roll' ? this.plan.taken : this.plan.takenLow;
  }

  private get check(): TakenCheck | null {
    return this.under === 'raised roll' ? this.plan.takenCheck : this.plan.takenLowCheck;
  }

  override render() {
    const { taken } = this;
    const { setId } = this.plan.question;
    const set = this.screen.state.sets.sets.find((one) => one.set.id === setId)?.set;
    return html`
      ${this.where ? html`<h3>${this.where}</h3>` : nothing}
      <form class="readd-form" @submit=${this.onSubmit}>
        <div>
          <label for=${this.boxId}>Block taken, as engraved</label>
          <input
            id=${this.boxId}
            class="readd-input"
            autocomplete="off"
            spellcheck="false"
            inputmode="decimal"
            maxlength="120"
            ?disabled=${this.off}
          />
        </div>
        <button type="submit" class="act" ?disabled=${this.off}>Add it</button>
      </form>
      ${
        taken.length === 0
          ? nothing
          : html`<div class="taken" role="group" aria-label="Blocks keyed">
              ${taken.map(
                (block, index) => html`<button
                  type="button"
                  class="choice"
                  aria-label="Take ${block} out again"
                  ?disabled=${this.off}
                  @click=${() => this.send(taken.filter((_, at) => at !== index))}
                ><span>${block}</span><span aria-hidden="true">×</span></button>`,
              )}
              <button type="button" class="act" ?disabled=${this.off} @click=${() => this.send([])}>Start over</button>
            </div>`
      }
      ${this.renderVerdict()}
      ${set === undefined ? nothing : this.renderCase(set.title, set.blocks)}
    `;
  }

  private renderCase(title: string, blocks: readonly GaugeBlock[]) {
    const { taken } = this;
    return html`<details>
      <summary>Tick them off in the case instead</summary>
      <div class="case" role="group" aria-label="Blocks of ${title}">
        ${blocks
          .filter(({ struck }) => struck !== true)
          .map(
            ({ size }) => html`<button
              type="button"
              class="choice"
              aria-pressed=${taken.includes(size)}
              ?disabled=${this.off}
              @click=${() => this.send(taken.includes(size) ? taken.filter((block) => block !== size) : [...taken, size])}
            >${size}</button>`,
          )}
      </div>
    </details>`;
  }

  private renderVerdict() {
    const { check, taken } = this;
    if (taken.length === 0) return nothing;
    if (check === null) {
      return html`<p class="warning" role="alert">
        These blocks cannot be read: ${taken.join(', ')}. Key each as engraved, with a point and without a unit.
      </p>`;
    }
    const { adds, sentence, slips } = check;
    return html`<div class="readd-verdict" role=${adds ? 'status' : 'alert'}>
      <svg viewBox="0 0 64 64" aria-hidden="true"><path d=${adds ? ADDS_SHAPE : WRONG_SHAPE}></path></svg>
      <div>
        <p class="big-word">${adds ? 'adds up' : 'does not add up'}</p>
        <p class="said">${sentence}</p>
        ${slips
          .filter(({ text }) => !sentence.includes(text))
          .map(
            ({ text, angleDeg, angleErrorArcsec }) => html`<p>
              ${text}
              ${
                angleDeg === null || angleErrorArcsec === null
                  ? nothing
                  : `It would have made ${formatAngle((angleDeg * Math.PI) / 180)}, off by ${formatAngle(radiansFromArcsec(angleErrorArcsec), { plus: true })}.`
              }
            </p>`,
          )}
      </div>
    </div>`;
  }

  private readonly onSubmit = (event: SubmitEvent): void => {
    event.preventDefault();
    if (this.box === null) return;
    const keyed = blocksOf(this.box.value);
    this.box.value = '';
    this.box.focus({ preventScroll: true });
    if (keyed.length > 0) this.send([...this.taken, ...keyed]);
  };

  private send(blocks: string[]): void {
    const { under } = this;
    void this.pen.command({
      kind: 'blocks taken',
      blocks,
      ...(under === 'raised roll' ? {} : { under }),
    });
  }
}
