import type { LengthUnit, PlanSection } from '@taptrue/protocol';
import { html } from 'lit';
import { property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import type { PlanEditor } from './plan-editor.ts';
import '../../parts/face/plan-text.ts';

export interface TextOptions {
  placeholder?: string;
  note?: string;
  /** Why the text does not do; shown under the field. */
  why?: string;
  mayBeEmpty?: boolean;
  most?: number;
}

/** What every part of the Plan place has: the screen it is drawn from and the pen that writes. */
export class PlanPart extends PlainElement {
  @property({ attribute: false }) pen!: PlanEditor;
  @property({ attribute: false }) screen!: Screen;

  protected get plan(): PlanSection {
    return this.screen.state.plan;
  }

  protected get setUnit(): LengthUnit | null {
    const { setId } = this.plan.question;
    return this.screen.state.sets.sets.find(({ set }) => set.id === setId)?.set.unit ?? null;
  }

  protected get off(): boolean {
    return !this.screen.mayCommand;
  }

  /** What the service says against these fields of the question; empty where it says nothing. */
  protected whyOf(...fields: string[]): string {
    const { refusal } = this.plan;
    if (refusal === null || !fields.includes(refusal.field)) return '';
    return `${refusal.fault.what} ${refusal.fault.remedy}`;
  }

  protected text(
    label: string,
    value: string | null,
    take: (text: string) => void,
    options: TextOptions = {},
  ) {
    return html`<plan-text
      .label=${label}
      .value=${value ?? ''}
      .placeholder=${options.placeholder ?? ''}
      .note=${options.note ?? ''}
      .why=${options.why ?? ''}
      .most=${options.most ?? 40}
      .mayBeEmpty=${options.mayBeEmpty ?? false}
      .disabled=${this.off}
      @typed=${(event: CustomEvent<string>) => take(event.detail)}
    ></plan-text>`;
  }
}
