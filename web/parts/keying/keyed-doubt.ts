import type { Fault, LengthUnit } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../controls/plain-element.ts';

/** A reading as it was typed, and how; as the commands of the bench take it. */
export interface TypedReading {
  keyed: string;
  lead?: true;
  sure?: true;
}

/**
 * What to do with a typed reading that was not taken, where there is something to choose. Why it was not is told
 * in the page's own words. Fires `again` with the reading as it is to be sent, `unit` with what the display
 * shows, `leave`.
 */
@customElement('keyed-doubt')
export class KeyedDoubt extends PlainElement {
  @property({ attribute: false }) fault!: Fault;
  @property({ attribute: false }) typed!: TypedReading;
  @property({ attribute: false }) disabled = false;

  override firstUpdated(): void {
    // A machinist who looks at the dial and back must not have to look for the question.
    this.scrollIntoView({ block: 'nearest' });
  }

  override render() {
    const { keyed } = this.typed;
    switch (this.fault.code) {
      case 'lead-unit-not-set':
        return this.renderChoice(
          html`The lead typed <q>${keyed}</q>. What does the display of the indicator show?`,
          [this.unitButton('in'), this.unitButton('mm')],
        );
      case 'keyed-doubted':
        return this.renderChoice(
          html`<q>${keyed}</q> was not taken. Look at the dial and its unit.`,
          [this.button(`Take ${keyed} all the same`, () => this.again({ sure: true }))],
        );
      case 'keyed-too-fine':
        return this.renderChoice(html`<q>${keyed}</q> was not taken.`, [
          this.button('A lead typed it', () => this.again({ lead: true })),
        ]);
      default:
        return nothing;
    }
  }

  private renderChoice(question: unknown, buttons: readonly unknown[]) {
    return html`<div class="keyed-doubt" role="group" aria-label="The reading that was not taken">
      <p>${question}</p>
      <div class="acts">
        ${buttons}
        ${this.button('Leave it out', () => this.dispatchEvent(new CustomEvent('leave')))}
      </div>
    </div>`;
  }

  private unitButton(unit: LengthUnit) {
    return this.button(`${this.typed.keyed} ${unit}`, () =>
      this.dispatchEvent(new CustomEvent('unit', { detail: unit })),
    );
  }

  private again(how: Partial<TypedReading>): void {
    this.dispatchEvent(new CustomEvent('again', { detail: { ...this.typed, ...how } }));
  }

  private button(label: string, press: () => void) {
    return html`<button type="button" class="act" ?disabled=${this.disabled} @click=${press}>${label}</button>`;
  }
}
