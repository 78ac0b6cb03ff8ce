import { type BlockSet, parseNumber } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { PlanPart } from './plan-part.ts';
import { GRADES, ownSetId } from './view/plan-words.ts';

type Block = BlockSet['blocks'][number];

/** The set chosen for the plan: a shipped one is copied, one's own is edited block by block. */
@customElement('plan-sets')
export class PlanSets extends PlanPart {
  @state() private size = '';
  @state() private asksRemove = false;
  @state() private deviationWhy = '';

  override render() {
    const { sets } = this.screen.state.sets;
    const chosen = sets.find(({ set }) => set.id === this.plan.question.setId);
    if (chosen === undefined) return nothing;
    const { set, own } = chosen;
    return html`<section class="plan-question" aria-label="Edit the set">
      <details>
        <summary>Blocks of this set</summary>
        <p>${set.title}. ${own ? 'Your own: every change is kept at once.' : 'This list ships with Taptrue and cannot be changed; a copy can.'}</p>
        <div class="acts">
          <button type="button" class="act" ?disabled=${this.off} @click=${() => void this.copy(set)}>Copy as your own</button>
          ${own ? this.renderRemove(set) : nothing}
          ${
            own && set.fromMemory
              ? html`<button type="button" class="act" ?disabled=${this.off} @click=${() => this.keep({ ...set, fromMemory: false, source: `${set.source}; compared with the case` })}>It was compared with the case</button>`
              : nothing
          }
        </div>
        ${own ? this.renderOwn(set) : nothing}
        <div class="case" role="group" aria-label="Blocks of ${set.title}">
          ${set.blocks.map(
            (block) => html`<button
              type="button"
              class="choice ${block.struck ? 'struck' : ''}"
              aria-pressed=${own && block.size === this.size}
              aria-label=${blockWord(block)}
              ?disabled=${this.off || !own}
              @click=${() => this.choose(block.size)}
            ><span>${block.size}</span>${(block.count ?? 1) > 1 ? html` <small>${block.count}×</small>` : nothing}</button>`,
          )}
        </div>
        ${own ? this.renderBlock(set) : nothing}
      </details>
    </section>`;
  }

  private choose(size: string): void {
    this.size = this.size === size ? '' : size;
    this.deviationWhy = '';
  }

  private async copy(set: BlockSet): Promise<void> {
    const ids = this.screen.state.sets.sets.map((one) => one.set.id);
    const id = ownSetId(set.id, ids);
    const copy = {
      ...set,
      id,
      title: `${set.title.slice(0, 70)}, own`,
      source: `copied from ${set.id}: ${set.source}`,
    };
    const answer = await this.pen.command({ kind: 'keep set', set: copy });
    if (answer.ok) void this.pen.change({ setId: id });
  }

  private keep(set: BlockSet): void {
    void this.pen.command({ kind: 'keep set', set });
  }

  private keepBlock(set: BlockSet, block: Block): void {
    this.keep({
      ...set,
      blocks: set.blocks.map((one) => (one.size === block.size ? block : one)),
    });
  }

  private renderRemove(set: BlockSet) {
    return html`<button
      type="button"
      class="act ${this.asksRemove ? 'act-sure' : ''}"
      ?disabled=${this.off}
      @click=${() => {
        if (this.asksRemove) void this.pen.command({ kind: 'remove set', id: set.id });
        this.asksRemove = !this.asksRemove;
      }}
      @blur=${() => {
        this.asksRemove = false;
      }}
    >${this.asksRemove ? 'Really remove it' : 'Remove this set'}</button>`;
  }

  private renderOwn(set: BlockSet) {
    return html`<div class="pair-of-fields">
      ${this.text('Name of the set', set.title, (title) => this.keep({ ...set, title }), { most: 80 })}
      <div>
        <label for="set-grade">Grade of the set</label>
        ${this.gradeSelect('set-grade', set.grade, (grade) => {
          const { grade: _, ...rest } = set;
          this.keep(grade === undefined ? rest : { ...rest, grade });
        })}
      </div>
      ${this.text(
        'Add a block, as engraved',
        '',
        (size) => {
          this.keep({ ...set, blocks: [...set.blocks, { size }] });
          this.choose(size);
        },
        {
          mayBeEmpty: false,
          most: 12,
          note: 'Touch a block below to strike it off or to give its certificate.',
        },
      )}
    </div>`;
  }

  private gradeSelect(id: string, chosen: Block['grade'], take: (grade: Block['grade']) => void) {
    return html`<select
      id=${id}
      ?disabled=${this.off}
      @change=${(event: Event) => take(GRADES.find((grade) => grade === (event.target as HTMLSelectElement).value))}
    >
      <option value="" ?selected=${chosen === undefined}>not known</option>
      ${GRADES.map((grade) => html`<option value=${grade} ?selected=${grade === chosen}>${grade}</option>`)}
    </select>`;
  }

  private renderBlock(set: BlockSet) {
    const block = set.blocks.find(({ size }) => size === this.size);
    if (block === undefined) return nothing;
    const isInch = set.unit === 'in';
    const deviation = isInch ? block.deviationUin : block.deviationUm;
    return html`<div class="pair-of-fields" role="group" aria-label="Block ${block.size}">
      <div class="acts">
        <button
          type="button"
          class="act"
          ?disabled=${this.off}
          @click=${() => {
            const { struck, ...rest } = block;
            this.keepBlock(set, struck ? rest : { ...rest, struck: true });
          }}
        >${block.struck ? `Put ${block.size} back` : `Strike ${block.size} off`}</button>
        <button
          type="button"
          class="act"
          ?disabled=${this.off || set.blocks.length === 1}
          @click=${() => this.keep({ ...set, blocks: set.blocks.filter((one) => one !== block) })}
        >Take ${block.size} out of the list</button>
      </div>
      ${this.text(
        `Certified length of ${block.size} less engraved, ${isInch ? 'µin' : 'µm'}`,
        deviation === undefined ? '' : String(deviation),
        (text) => this.takeDeviation(set, block, text),
        { placeholder: 'not certified', mayBeEmpty: true, why: this.deviationWhy },
      )}
      <div>
        <label for="block-grade">Grade of ${block.size}</label>
        ${this.gradeSelect('block-grade', block.grade, (grade) => {
          const { grade: _, ...rest } = block;
          this.keepBlock(set, grade === undefined ? rest : { ...rest, grade });
        })}
      </div>
    </div>`;
  }

  private takeDeviation(set: BlockSet, block: Block, text: string): void {
    const { deviationUm, deviationUin, ...rest } = block;
    const parsed = parseNumber(text);
    this.deviationWhy = text === '' || parsed.ok ? '' : `"${text}" is not a number.`;
    if (this.deviationWhy) return;
    if (text === '' || !parsed.ok) this.keepBlock(set, rest);
    else if (set.unit === 'in') this.keepBlock(set, { ...rest, deviationUin: parsed.value });
    else this.keepBlock(set, { ...rest, deviationUm: parsed.value });
  }
}

function blockWord(block: Block): string {
  const count = (block.count ?? 1) > 1 ? `, ${block.count} of them` : '';
  return `${block.size}${count}${block.struck ? ', struck off' : ''}`;
}
