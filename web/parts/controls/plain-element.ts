import { LitElement } from 'lit';

/**
 * Elements of this page draw into the page itself, not into a shadow: one style sheet, labels that reach
 * their fields, and one tree for a screen reader.
 */
export class PlainElement extends LitElement {
  protected override createRenderRoot(): HTMLElement {
    return this;
  }
}
