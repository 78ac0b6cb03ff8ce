import type { BenchState } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Screen } from '../../state/latest-state.ts';
import { senseWords } from '../../view/words.ts';
import { actButton } from '../controls/act-button.ts';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';

/** What the line, the dial or the mallet cannot be trusted for: in sight of the answer, never below it all. */
@customElement('result-cautions')
export class ResultCautions extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;

  override render() {
    const texts = cautionTexts(this.screen.state);
    return html`${
      texts.length === 0
        ? nothing
        : html`<ul class="cautions" aria-label="What cannot be trusted">${texts.map((text) => html`<li>${text}</li>`)}</ul>`
    }${this.renderQuestion()}${this.renderSense()}`;
  }

  /** What the last two sweeps leave open, where it can be settled: beside the answer that depends on it. */
  private renderQuestion() {
    const { pivot, sweep } = this.screen.state;
    const { question } = pivot;
    if (question === null || sweep?.state === 'being taken') return nothing;
    const say = (yes: boolean, label: string) =>
      actButton(this.screen, this.handle, label, { kind: 'answer turn', yes });
    return html`<div class="sense" role="group" aria-label="Asked of the last two sweeps">
      <p class="do-now">${question.text}</p>
      <div class="acts">${say(false, question.no)} ${say(true, question.yes)}</div>
    </div>`;
  }

  /** With the nudge skipped nothing else asks for the one thing without which no end can be named. */
  private renderSense() {
    const { setup, nudges, sweep } = this.screen.state;
    const isSkipped = nudges.y.state === 'skipped' && setup.rises === null;
    if (!isSkipped || sweep?.state === 'being taken') return nothing;
    const words = senseWords(setup.axis);
    const say = (rises: 'toward' | 'away', label: string) =>
      actButton(this.screen, this.handle, label, { kind: 'change setup', change: { rises } });
    return html`<div class="sense">
      <p class="do-now">Which way does the dial count? Until that is known no end can be named. The reading rises</p>
      <div class="acts">
        ${say('toward', `as the bar goes ${words.toward}`)} ${say('away', `as the bar goes ${words.away}`)}
        ${actButton(this.screen, this.handle, 'Do the nudge after all', { kind: 'forget nudge', nudge: 'y' })}
      </div>
    </div>`;
  }
}

function cautionTexts({ sweep, tap, bench, setup }: BenchState): string[] {
  const texts: string[] = [];
  if (tap !== null && bench.stage === 'tight') {
    texts.push(
      'The clamps are set as tight. Loosen to nipped before tapping, and say so in the bar.',
    );
  }
  if (tap !== null && tap.sweepAgain !== '') texts.push(tap.sweepAgain);
  if (sweep === null || sweep.state === 'being taken') return texts;
  if (sweep.zeroMoved !== '' && tap === null) {
    texts.push(
      `The dial no longer reads as in sweep ${sweep.id}: ${sweep.zeroMoved}. Park the stylus for a new reading to stop at.`,
    );
  }
  texts.push(...(sweep.result?.cautions.map(({ text }) => text) ?? []));
  for (const nudge of sweep.nudgesSkipped) texts.push(skippedText(nudge, setup.axis));
  return texts;
}

function skippedText(nudge: 'y' | 'x', axis: 'x' | 'y'): string {
  return nudge === 'y'
    ? `The ${axis === 'x' ? 'saddle' : 'table'} nudge was skipped: sign and scale of the dial are as set by hand, not proved.`
    : `The ${axis === 'x' ? 'table' : 'saddle'} nudge was skipped: the two ends are as marked, not proved.`;
}
