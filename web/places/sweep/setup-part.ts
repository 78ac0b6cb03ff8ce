import type { Setup, SetupChange } from '@taptrue/protocol';
import { html, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { quantityOf } from '../../parts/controls/quantity-field.ts';
import type { Screen } from '../../state/latest-state.ts';
import '../../parts/controls/quantity-field.ts';

/** What every part of the setup needs: the setup as it stands, whether it may be changed, and the way to change it. */
export class SetupPart extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  protected get setup(): Setup {
    return this.screen.state.setup;
  }

  protected get off(): boolean {
    return !this.screen.mayCommand;
  }

  protected change(change: SetupChange): void {
    void this.handle.command({ kind: 'change setup', change });
  }

  protected length(
    label: string,
    value: number,
    take: (mm: number) => void,
    note = '',
  ): TemplateResult {
    return html`<quantity-field
      .label=${label}
      .unit=${this.setup.displayUnit}
      .value=${value}
      .note=${note}
      .disabled=${this.off}
      @quantity=${(event: Event) => take(quantityOf(event))}
    ></quantity-field>`;
  }
}
