import { formatLength, type JobDetail, type LengthUnit, type SweepDetail } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { verdictMark } from '../../parts/face/verdict-shapes.ts';
import type { Screen } from '../../state/latest-state.ts';
import { EFFECT_WORDS, turnText } from '../../view/words.ts';
import { whenText } from './local-time.ts';
import { type LinePoint, scaleFor } from './view/line-picture.ts';
import { angleWithin, endToEndText, turnWords } from './view/proof-words.ts';

const BOX = { widthPx: 420, heightPx: 150, padPx: 14 };

/** One sweep of a kept job: all its points with the line, what it said, what was tapped after it. */
@customElement('proof-sweep')
export class ProofSweep extends PlainElement {
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) job!: JobDetail;
  @property({ attribute: false }) sweep!: SweepDetail;

  override render() {
    const { sweep, job } = this;
    const unit = this.screen.state.setup.displayUnit;
    const notes = job.notesOf.filter((note) => note.sweep === sweep.number && note.struck === null);
    return html`<article class="proof-sweep">
      ${this.renderPicture(unit)}
      <div class="proof-sweep-said">
        <h3>Sweep ${sweep.number}, ${sweep.stage} ${sweep.simulated ? html`<em class="simulated-word">SIMULATED</em>` : nothing}</h3>
        <p>${verdictMark(sweep.verdict, sweep.result ? 'no limit set' : 'no line')}
          ${sweep.result ? html`<strong>${angleWithin(sweep.outOfTrueArcsec, sweep.expandedArcsec)}</strong>, ${endToEndText(sweep, unit)}` : nothing}</p>
        <p>${sweep.sentence || 'It was abandoned, or its points gave no line.'}</p>
        ${sweep.result?.cautions.map(({ text }) => html`<p class="field-note">${text}</p>`) ?? nothing}
        ${sweep.turn ? html`<p class="field-note">${turnWords(sweep.turn)}</p>` : nothing}
        ${notes.map((note) => html`<p>Note ${note.number}: ${note.text} <em>${note.by}</em></p>`)}
        <p class="field-note">${whenText(sweep.endedAt)}, ${sweep.samples} ${sweep.samples === 1 ? 'reading' : 'readings'}</p>
        ${this.renderTaps(unit)}
      </div>
    </article>`;
  }

  private renderPicture(unit: LengthUnit) {
    const { points, surfacePerReading, result } = this.sweep;
    if (points.length < 2) return html`<div class="proof-line"></div>`;
    const heights = points.map(
      ({ xMm, readingMm }): LinePoint => [xMm, surfacePerReading * readingMm],
    );
    const lineAt = (xMm: number): LinePoint => [xMm, result!.interceptMm + result!.slope * xMm];
    const ends = result === null ? [] : [lineAt(result.fromMm), lineAt(result.toMm)];
    const scale = scaleFor([...heights, ...ends], BOX);
    const full = formatLength(scale.highMm - scale.lowMm, unit);
    return html`<figure class="proof-line">
      <svg viewBox="0 0 ${BOX.widthPx} ${BOX.heightPx}" role="img" aria-label="Points of sweep ${this.sweep.number} with their line, away at the top, full height ${full}">
        ${
          ends.length === 2
            ? svg`<line class="proof-fit" x1=${scale.xPx(ends[0]![0])} y1=${scale.yPx(ends[0]![1])} x2=${scale.xPx(ends[1]![0])} y2=${scale.yPx(ends[1]![1])}></line>`
            : nothing
        }
        ${heights.map(
          ([x, y], index) =>
            svg`<circle class=${points[index]!.pass === 'out' ? 'proof-point' : 'proof-point proof-point-back'} cx=${scale.xPx(x).toFixed(1)} cy=${scale.yPx(y).toFixed(1)} r=${points.length > 40 ? 2.5 : 5}></circle>`,
        )}
      </svg>
      <figcaption>${points.length} points, ${points.some(({ pass }) => pass === 'back') ? 'filled out, hollow back, ' : nothing}full height ${full}</figcaption>
    </figure>`;
  }

  private renderTaps(unit: LengthUnit) {
    const { taps, number } = this.sweep;
    if (taps.length === 0) return nothing;
    return html`<details>
      <summary>${taps.length === 1 ? 'One tap' : `${taps.length} taps`} after sweep ${number}</summary>
      <ol class="proof-taps">
        ${taps.map(
          (
            step,
          ) => html`<li>${step.number}. ${EFFECT_WORDS[step.effect]}: dial ${formatLength(step.beforeMm, unit, { plus: true, bare: true })}
            to ${formatLength(step.afterMm, unit, { plus: true })}, turned ${turnText(step.turnedArcsec)}</li>`,
        )}
      </ol>
    </details>`;
  }
}
