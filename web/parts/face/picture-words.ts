import { formatLength, type PivotSection, type SweptState } from '@taptrue/protocol';
import type { SweptLayout } from '@taptrue/protocol/picture';
import { html, nothing, type TemplateResult } from 'lit';
import { endLies, sideWords } from '../../view/words.ts';

/** The words under the picture, outside the drawing so that mallet and stylus never cover them. */
export function pictureWords(bench: SweptState, layout: SweptLayout): TemplateResult {
  const { low, high, bottom } = sideWords(bench.setup.axis);
  const isMeasured = bench.sweep?.result != null;
  const end = (which: 'low' | 'high', name: string) => html`<span class="end-${which}"
    >${name}${lies(bench, layout, which)}</span
  >`;
  return html`<p class="picture-ends">
      ${end('low', low)}<span>${bottom}</span>${end('high', high)}
    </p>
    <p class="picture-legend">
      ${layout.exaggeration === null ? nothing : html`<span>lean drawn ${layout.exaggeration} times</span>`}
      ${isMeasured && bench.setup.rises === null ? html`<span>which way it leans is not known</span>` : nothing}
      <span>${pivotWords(bench.pivot, bench)}</span>
      ${bench.sweep?.result?.passes.length === 2 ? html`<span>● out ◇ back</span>` : nothing}
      ${bench.tap === null ? nothing : html`<span>parked at ${formatLength(bench.tap.parkedAtMm, bench.setup.displayUnit, { decimals: 3 })}</span>`}
    </p>`;
}

function lies(bench: SweptState, { lowerEnd }: SweptLayout, which: 'low' | 'high') {
  const higherEnd = higherOnDial(bench, lowerEnd);
  const named = higherEnd ?? lowerEnd;
  if (named !== which) return nothing;
  const where = endLies(lowerEnd === which, bench.setup.axis);
  return html`: <strong>${where}</strong>${higherEnd === which ? ', higher on the dial' : ''}`;
}

/** End at which the dial reads more; null: neither, not known, or a slope is aimed at. */
function higherOnDial({ setup }: SweptState, lowerEnd: SweptLayout['lowerEnd']) {
  if (lowerEnd === null || setup.targetSlope !== 0) return null;
  if (setup.rises !== 'away') return lowerEnd;
  return lowerEnd === 'low' ? 'high' : 'low';
}

function pivotWords(pivot: PivotSection, { setup }: SweptState): string {
  const decimals = setup.displayUnit === 'in' ? 3 : 1;
  const within = `± ${formatLength(pivot.uncertaintyMm, setup.displayUnit, { decimals })}`;
  return pivot.inUse === 'learned'
    ? `pivot learned, ${within}`
    : `pivot as you set it: ${setup.pivot.choice}, ${within}`;
}
