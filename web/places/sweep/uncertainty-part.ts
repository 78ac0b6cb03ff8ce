import { formatAngle, radiansFromArcsec, type Setup, type SweepResult } from '@taptrue/protocol';
import { html, nothing, type TemplateResult } from 'lit';

/** What the ± is made of, and what it does not contain, so that nobody takes it for the whole. */
export function uncertaintyPart(result: SweepResult, setup: Setup): TemplateResult {
  const { uncertaintyParts, angleStandardUncertaintyArcsec: u, outOfTrueArcsecExpanded } = result;
  const { guardArcsec } = result;
  return html`<h3>What the uncertainty is made of</h3>
    ${
      u === null || outOfTrueArcsecExpanded === null
        ? html`<p>Nothing is known of it: two stations leave no scatter to judge by, and nothing was said of the indicator.</p>`
        : html`<dl class="sheet">
            ${uncertaintyParts.map(({ name, arcsec }) => row(name, angle(arcsec)))}
            ${row('all together, one standard uncertainty u', angle(u))}
            ${row('± for 95 %, so many times u', (outOfTrueArcsecExpanded / u).toFixed(2))}
            ${result.limitArcsec !== null && result.decisionRule === 'guarded' && guardArcsec != null ? row('the limit is guarded by t u, one-sided 95 %', angle(guardArcsec)) : nothing}
          </dl>`
    }
    <p class="not-contained"><strong>Not in it:</strong> ${missing(result, setup).join('; ')}.</p>`;
}

function angle(arcsec: number): string {
  return formatAngle(radiansFromArcsec(arcsec));
}

function row(name: string, figure: string) {
  return html`<div><dt>${name}</dt><dd>${figure}</dd></div>`;
}

function missing(result: SweepResult, { indicator }: Setup): string[] {
  const has = (name: string) => result.uncertaintyParts.some((part) => part.name === name);
  const lacks: string[] = [];
  if (indicator.permissibleErrorMm === null)
    lacks.push('the indicator’s permissible error (not given)');
  if (indicator.repeatabilityMm === null) lacks.push('what this bench repeats to (not given)');
  if (!has('difference between directions'))
    lacks.push('lag between the directions (swept one way)');
  lacks.push('stack and bar, never: they are the jaw’s part, not the sweep’s');
  return lacks;
}
