import type { Verdict } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';

/** The edge against the axis: along it, crossing it, or too near to tell. */
export const VERDICT_SHAPES: Readonly<Record<Verdict, string>> = {
  true: 'M4 18h56v6H4zM4 40h56v6H4z',
  'not true': 'M4 44h56v6H4zM4 34L58 10l3 6L6 40z',
  'too close to call': 'M4 40h56v6H4zM4 24h14v6H4zM25 24h14v6H25zM46 24h14v6H46z',
};

/** Shape and word of a verdict; `noWord` where there is none. */
export function verdictMark(verdict: Verdict | null, noWord: string) {
  return html`<span class="verdict-mark">
    ${
      verdict === null
        ? nothing
        : html`<svg viewBox="0 0 64 60" aria-hidden="true">${svg`<path d=${VERDICT_SHAPES[verdict]}></path>`}</svg>`
    }
    <strong>${verdict ?? noWord}</strong>
  </span>`;
}
