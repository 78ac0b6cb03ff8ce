import type { Mark } from '@taptrue/protocol';
import { html, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { cellText, cellWord } from './view/captured-text.ts';
import { MEANS_WORD } from './view/teach-words.ts';

/** Selected cells, from the first to one past the last. */
export interface CellSpan {
  from: number;
  to: number;
}

/**
 * One line, a cell a character. A span is chosen by dragging, by touching its first and then its last cell, or with
 * the arrow keys and Shift; Space does what a touch does. Fires `span`.
 */
@customElement('teach-cells')
export class TeachCells extends PlainElement {
  @property({ attribute: false }) text = '';
  @property({ attribute: false }) marks: readonly Mark[] = [];
  @property({ attribute: false }) off = false;
  @state() private anchor: number | null = null;
  @state() private end = 0;
  @state() private at = 0;
  private dragging = false;
  private settled = false;

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('text') && changed.get('text') !== undefined) this.clear();
  }

  /** Nothing is selected any more. */
  clear(): void {
    this.anchor = null;
    this.settled = false;
    this.at = Math.min(this.at, Math.max(0, this.text.length - 1));
  }

  override render() {
    return html`<div
      class="cells"
      role="group"
      aria-label="Characters of the line"
      @pointerup=${this.drop}
      @pointercancel=${this.drop}
    >
      ${[...this.text].map((character, index) => this.renderCell(character, index))}
    </div>`;
  }

  private renderCell(character: string, index: number) {
    const mark = this.marks.find(({ from, to }) => index >= from && index < to);
    const span = this.span();
    const isChosen = span !== null && index >= span.from && index < span.to;
    const word = mark ? MEANS_WORD[mark.means] : 'always the same';
    return html`<button
      type="button"
      class="cell ${mark ? 'cell-marked' : ''} ${mark?.from === index ? 'cell-first' : ''}"
      aria-label="${index + 1}, ${cellWord(character)}, ${word}"
      aria-pressed=${isChosen}
      tabindex=${index === this.at ? 0 : -1}
      ?disabled=${this.off}
      @pointerdown=${(event: PointerEvent) => this.press(index, event)}
      @pointerenter=${() => this.drag(index)}
      @keydown=${(event: KeyboardEvent) => this.key(index, event)}
    ><span>${cellText(character)}</span><small>${mark?.from === index ? word : ''}</small></button>`;
  }

  private span(): CellSpan | null {
    if (this.anchor === null) return null;
    return { from: Math.min(this.anchor, this.end), to: Math.max(this.anchor, this.end) + 1 };
  }

  /** A first touch begins a span, a second ends it, a third begins another one. */
  private touch(index: number): void {
    const fresh = this.anchor === null || this.settled;
    if (fresh) this.anchor = index;
    this.settled = !fresh;
    this.end = index;
    this.at = index;
    this.tell();
  }

  private press(index: number, event: PointerEvent): void {
    if (this.off) return;
    // Without this the pointer stays with the first cell, and the others do not hear of the drag.
    (event.target as Element).releasePointerCapture?.(event.pointerId);
    this.dragging = event.pointerType !== 'touch';
    this.touch(index);
  }

  private drag(index: number): void {
    if (!this.dragging || this.anchor === null || index === this.end) return;
    this.end = index;
    this.settled = true;
    this.tell();
  }

  private readonly drop = (): void => {
    this.dragging = false;
  };

  private key(index: number, event: KeyboardEvent): void {
    const steps: Readonly<Record<string, number>> = {
      ArrowRight: 1,
      ArrowLeft: -1,
      Home: -index,
      End: this.text.length - 1 - index,
    };
    if (event.key === ' ' || event.key === 'Enter') {
      event.preventDefault();
      this.touch(index);
      return;
    }
    const step = steps[event.key];
    if (step === undefined) return;
    event.preventDefault();
    const next = Math.min(Math.max(0, index + step), this.text.length - 1);
    if (event.shiftKey) {
      this.anchor ??= index;
      if (this.settled && this.end !== index) this.anchor = index;
      this.end = next;
      this.settled = true;
      this.tell();
    }
    this.at = next;
    void this.updateComplete.then(() => {
      this.querySelectorAll<HTMLButtonElement>('.cell')[next]?.focus();
    });
  }

  private tell(): void {
    this.dispatchEvent(new CustomEvent<CellSpan | null>('span', { detail: this.span() }));
  }
}
