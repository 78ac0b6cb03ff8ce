import { formatLength, type SweepSummary } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { endToEndWords, turnText } from '../../view/words.ts';

/** Earlier sweeps of this job, newest first, with what tightening did between them. */
@customElement('sweep-history')
export class SweepHistory extends PlainElement {
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { sweeps } = this.screen.state.history;
    if (sweeps.length === 0) return nothing;
    return html`<section class="history" aria-label="Sweeps of this job">
      <h2>Sweeps of this job</h2>
      <table>
        <thead>
          <tr>
            ${COLUMNS.map((name) => html`<th scope="col">${name}</th>`)}
          </tr>
        </thead>
        <tbody>${[...sweeps].reverse().map((sweep) => this.renderSweep(sweep))}</tbody>
      </table>
      ${this.renderPivot()}
    </section>`;
  }

  private renderSweep({ id, stage, result, simulated, shiftArcsec, zeroMoved }: SweepSummary) {
    const cells = [
      html`<strong>${id}</strong>${simulated ? html` <em class="simulated-word">SIMULATED</em>` : nothing}`,
      stage,
      html`<strong>${endToEndWords(result, this.screen.state.setup)}</strong>`,
      result.verdict ?? 'no limit set',
      shiftArcsec === null ? '—' : turnText(shiftArcsec),
      zeroText(zeroMoved, id === this.screen.state.history.sweeps[0]?.id),
    ];
    return html`<tr>${cells.map((cell, index) => html`<td data-column=${COLUMNS[index]!}>${cell}</td>`)}</tr>`;
  }

  private renderPivot() {
    const { pivot, setup } = this.screen.state;
    const decimals = setup.displayUnit === 'in' ? 3 : 1;
    const place = (mm: number | null) => formatLength(mm ?? 0, setup.displayUnit, { decimals });
    return html`<p class="pivot-sentence">${pivot.sentence}</p>
      ${
        pivot.evidence.length === 0
          ? nothing
          : html`<ul class="evidence">${pivot.evidence.map(
              ({ beforeSweep, afterSweep, used, why, xMm, uncertaintyMm }) =>
                html`<li>Sweeps ${beforeSweep} and ${afterSweep}: ${
                  used
                    ? `used. Their lines cross at ${place(xMm)}, ± ${place(uncertaintyMm)}.`
                    : `not used, ${why}.`
                }</li>`,
            )}</ul>`
      }`;
  }
}

const COLUMNS = [
  'sweep',
  'clamps',
  'end to end',
  'verdict',
  'turned by tightening',
  'zero',
] as const;

function zeroText(zeroMoved: string | null, isFirst: boolean): string {
  if (zeroMoved !== null) return `another: ${zeroMoved}`;
  return isFirst ? '—' : 'the same';
}
