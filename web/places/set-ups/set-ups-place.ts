import type { SetUpBrief, SetUpsSection } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { actButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { verdictMark } from '../../parts/face/verdict-shapes.ts';
import type { Screen } from '../../state/latest-state.ts';
import './set-up-read.ts';
import './set-up-result.ts';

/** Everything else a shop makes true: chosen by its picture, read, judged and kept in the same job. */
@customElement('set-ups-place')
export class SetUpsPlace extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const { setUps } = this.screen.state;
    const row = setUps.rows.find(({ name }) => name === setUps.chosen?.name);
    return html`<section class="set-ups">
      ${row && setUps.chosen ? this.renderChosen(row) : this.renderChoice(setUps)}
      ${setUps.kept.length === 0 ? nothing : this.renderKept(setUps)}
    </section>`;
  }

  private renderChoice({ rows }: SetUpsSection) {
    return html`<h2>What is to be made true?</h2>
      <ul class="set-up-rows">
        ${rows.map(
          (row) => html`<li><button
            type="button"
            class="set-up-row"
            ?disabled=${!this.screen.mayCommand}
            @click=${() => void this.handle.command({ kind: 'choose set-up', name: row.name })}
          >${picture(row)}<strong>${row.name}</strong><span>${row.title}</span></button></li>`,
        )}
      </ul>`;
  }

  private renderChosen(row: SetUpBrief) {
    const { handle, screen } = this;
    return html`<header class="set-up-head">
        ${picture(row)}
        <div>
          <h2>${row.title}</h2>
          <p>Stylus on: ${row.swept}.</p>
          <p>Moved: ${row.travel}.</p>
        </div>
        ${actButton(screen, handle, 'Another set-up', { kind: 'leave set-up' })}
      </header>
      <set-up-result .handle=${handle} .screen=${screen} .row=${row}></set-up-result>
      <set-up-read .handle=${handle} .screen=${screen} .row=${row}></set-up-read>`;
  }

  private renderKept({ kept }: SetUpsSection) {
    return html`<h3>Kept in this job</h3>
      <ol class="set-ups-kept">
        ${kept.map(
          ({ number, title, judged }) => html`<li value=${number}>
            ${verdictMark(judged.verdict, 'not judged')}
            <span><strong>${title}</strong>. ${judged.sentence} ${judged.correction}</span>
          </li>`,
        )}
      </ol>`;
  }
}

function picture({ picture: strokes }: SetUpBrief) {
  return html`<svg class="set-up-picture" viewBox="0 0 120 80" aria-hidden="true">${svg`<path d=${strokes}></path>`}</svg>`;
}
