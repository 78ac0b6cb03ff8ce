import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import type { NextStep } from './view/next-step.ts';
import { OneKey } from './view/one-key.ts';

/** The one next step: a button in one place, and the one key that presses it wherever the focus lies. */
@customElement('next-step')
export class NextStepButton extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) step!: NextStep;
  private readonly oneKey = new OneKey();
  private isSending = false;

  override connectedCallback(): void {
    super.connectedCallback();
    document.addEventListener('keydown', this.onDown);
    document.addEventListener('keyup', this.onUp);
    addEventListener('blur', this.onBlur);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    document.removeEventListener('keydown', this.onDown);
    document.removeEventListener('keyup', this.onUp);
    removeEventListener('blur', this.onBlur);
  }

  override render() {
    const { step, screen } = this;
    const idle = this.isIdle();
    return html`<button
      type="button"
      class="next-step"
      aria-disabled=${idle ? 'true' : nothing}
      @click=${this.onClick}
    >${screen.mayCommand || step.place !== null ? step.label : 'Watching only'}</button>`;
  }

  private isIdle(): boolean {
    const { step, screen } = this;
    return step.place === null && (step.command === null || !screen.mayCommand);
  }

  private readonly onDown = (event: KeyboardEvent): void => {
    if (!this.isMine(event)) return;
    event.preventDefault();
    this.oneKey.down(event.key, event.repeat, event.timeStamp);
  };

  private readonly onUp = (event: KeyboardEvent): void => {
    if (!this.isMine(event)) return;
    event.preventDefault();
    const means = this.oneKey.up(event.key, event.timeStamp);
    if (means === 'next') void this.goOn();
    if (means === 'back') void this.goBack();
  };

  private readonly onClick = (event: MouseEvent): void => {
    if (this.oneKey.click(event.timeStamp)) void this.goOn();
  };

  private readonly onBlur = (): void => this.oneKey.letGo();

  /** A text field keeps its keys, and so does another control that the keyboard was put on. */
  private isMine(event: KeyboardEvent): boolean {
    if (event.ctrlKey || event.altKey || event.metaKey || !OneKey.takes(event.key)) return false;
    const target = event.target as HTMLElement;
    if (target.closest('input, textarea, select') !== null) return false;
    const control = target.closest('button, a, summary');
    return control === null || this.contains(control) || !control.matches(':focus-visible');
  }

  private async goOn(): Promise<void> {
    const { command, place } = this.step;
    if (this.isIdle() || this.isSending) return;
    if (place !== null) location.hash = place;
    if (command === null) return;
    this.isSending = true;
    await this.handle.command(command);
    this.isSending = false;
  }

  private async goBack(): Promise<void> {
    const { back } = this.step;
    if (back === null || !this.screen.mayCommand || this.isSending) return;
    this.isSending = true;
    await this.handle.command(back);
    this.isSending = false;
  }
}
