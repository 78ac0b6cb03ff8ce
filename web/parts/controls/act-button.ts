import type { Command } from '@taptrue/protocol';
import { html, nothing, type TemplateResult } from 'lit';
import type { Screen } from '../../state/latest-state.ts';
import type { BenchHandle } from './bench-handle.ts';

export interface ActOptions {
  /** `now`: the one thing to do now, in the accent. `big`: for hands in gloves. */
  look?: 'now' | 'plain';
  big?: boolean;
  /** Keys that do the same, printed on the button. */
  keys?: string;
  disabled?: boolean;
}

/** A button that sends one command; off, and said to be off, where this screen may not command. */
export function actButton(
  screen: Screen,
  handle: BenchHandle,
  label: string,
  command: Command,
  options: ActOptions = {},
): TemplateResult {
  return doButton(screen, label, () => void handle.command(command), options);
}

export function doButton(
  screen: Screen,
  label: string,
  act: () => void,
  options: ActOptions = {},
): TemplateResult {
  const off = !screen.mayCommand || options.disabled === true;
  return html`<button
    type="button"
    class="act ${options.look === 'now' ? 'act-now' : ''} ${options.big ? 'act-big' : ''}"
    ?disabled=${off}
    title=${screen.mayCommand ? nothing : screen.whyNot}
    @click=${act}
  >
    <span>${label}</span>${options.keys ? html`<kbd>${options.keys}</kbd>` : nothing}
  </button>`;
}
