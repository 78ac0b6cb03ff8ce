import { type Comparison, formatLength } from '@taptrue/protocol';
import { html, nothing, type PropertyValues, svg } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fetchComparison } from '../../connection/fetch-proof.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { verdictMark } from '../../parts/face/verdict-shapes.ts';
import type { Screen } from '../../state/latest-state.ts';
import { whenText } from './local-time.ts';
import { boxFor, type LaidOver, type LayWay, layOver } from './view/lay-over.ts';
import { pathThrough } from './view/line-picture.ts';
import { angleWithin } from './view/proof-words.ts';
import './proof-repeats.ts';

const WAYS = [
  { value: 'together', label: 'laid together at mid length' },
  { value: 'as read', label: 'as they were read' },
  { value: 'off the line', label: 'off their own lines' },
] as const;

/** Two to twenty sweeps over each other on one bar, each with its own dash and number. */
@customElement('proof-compare')
export class ProofCompare extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  /** KEY:NUMBER, separated by commas. */
  @property({ attribute: false }) sweeps = '';
  @state() private found: Comparison | null = null;
  @state() private why = '';
  @state() private way: LayWay = 'together';

  override willUpdate(changed: PropertyValues): void {
    if (changed.has('sweeps')) void this.look();
  }

  override render() {
    const { found } = this;
    if (this.why) return html`<p class="warning proof-part" role="alert">${this.why}</p>`;
    if (found === null) return html`<p class="proof-part" role="status">Looking.</p>`;
    const laid = layOver(found.sweeps, this.way, boxFor(innerWidth));
    return html`
      <section class="proof-part" aria-label="Sweeps over each other">
        <h2>${found.sweeps.length} sweeps over each other</h2>
        ${choiceRow('Heights', WAYS, this.way, false, (way) => {
          this.way = way;
        })}
        ${this.renderPicture(laid)}
        <ol class="proof-legend">${found.sweeps.map((_sweep, index) => this.renderLine(found, laid, index))}</ol>
      </section>
      ${
        found.repeats === null
          ? html`<section class="proof-part"><h2>How it repeats</h2><p>${found.whyNoRepeats}</p></section>`
          : html`<proof-repeats .handle=${this.handle} .screen=${this.screen} .repeats=${found.repeats}></proof-repeats>`
      }
    `;
  }

  private renderPicture(laid: LaidOver) {
    const unit = this.screen.state.setup.displayUnit;
    const full = formatLength(laid.scale.highMm - laid.scale.lowMm, unit);
    return html`<figure class="proof-compared">
      <svg viewBox="0 0 ${laid.box.widthPx} ${laid.box.heightPx}" role="img" aria-label="The sweeps over one bar, away at the top, full height ${full}">
        ${laid.lines.map(
          ({ points, dash, label }) => svg`
            <path class="proof-lay" stroke-dasharray=${dash || nothing} d=${pathThrough(points, laid.scale)}></path>
            <text class="proof-lay-number" x=${label.xPx} y=${label.yPx}>${label.text}</text>`,
        )}
      </svg>
      <figcaption>Left end at the left, away at the top; full height ${full}.</figcaption>
    </figure>`;
  }

  private renderLine(found: Comparison, laid: LaidOver, index: number) {
    const sweep = found.sweeps[index]!;
    const difference = index === 0 ? null : found.differences[index - 1]!;
    return html`<li>
      <span class="proof-legend-number">${index + 1}</span>
      <svg class="proof-dash" viewBox="0 0 70 12" aria-hidden="true">${svg`<path class="proof-lay" stroke-dasharray=${laid.lines[index]!.dash || nothing} d="M1 6h68"></path>`}</svg>
      <div>
        <p><a href="#proof/job/${sweep.job}">${sweep.title}</a>, ${whenText(sweep.endedAt)} ${sweep.simulated ? html`<em class="simulated-word">SIMULATED</em>` : nothing}</p>
        <p>${verdictMark(sweep.verdict, 'no limit set')} <strong>${angleWithin(sweep.outOfTrueArcsec, sweep.expandedArcsec)}</strong></p>
        ${difference === null ? nothing : html`<p class="field-note">From ${index} to ${index + 1}: ${difference.words}</p>`}
      </div>
    </li>`;
  }

  private async look(): Promise<void> {
    const { sweeps } = this;
    this.found = null;
    const found = await fetchComparison(sweeps.split(','));
    if (sweeps !== this.sweeps) return;
    this.why = found.ok ? '' : found.why;
    if (found.ok) this.found = found.value;
  }
}
