import { formatAngle, type Learned, radiansFromArcsec } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fetchLearned } from '../../connection/fetch-proof.ts';
import { actButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';

/** Aiming off for what tightening will turn: offered with its evidence, taken by the user, shown while it acts. */
@customElement('tap-aim')
export class TapAim extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private learned: Learned | null = null;
  private seen = '';

  override willUpdate(): void {
    const { bench, history, card, replay } = this.screen.state;
    // What the jobs of today teach is no part of what is told again.
    if (replay !== null) return;
    const now = `${bench.stage}/${bench.job.number}/${history.sweeps.length}/${card.machine}`;
    if (now === this.seen) return;
    this.seen = now;
    void this.look(now);
  }

  override render() {
    const { setup, bench } = this.screen.state;
    const taken = setup.aimOff ?? null;
    if (taken !== null) {
      const by = formatAngle(radiansFromArcsec(Math.abs(taken.arcsec)));
      const way = taken.arcsec > 0 ? 'counter-clockwise' : 'clockwise';
      const acts =
        taken.stage === bench.stage
          ? 'The reading to stop at reckons with it; the verdict does not.'
          : `It acts at ${taken.stage} only, not now.`;
      return html`<section class="tap-aim" aria-label="Aiming off">
        <p><strong>Aimed off by ${by} ${way} at ${taken.stage}</strong>, from ${taken.jobs} jobs${taken.spreadArcsec === null ? '' : ` (± ${formatAngle(radiansFromArcsec(taken.spreadArcsec))})`}. ${acts}</p>
        <div class="acts">${actButton(this.screen, this.handle, 'Aim at true again', {
          kind: 'change setup',
          change: { aimOff: null },
        })}</div>
      </section>`;
    }
    const aim = this.learned?.aim ?? null;
    if (aim === null || aim.stage !== bench.stage) return nothing;
    const { stage, arcsec, spreadArcsec, jobs } = aim;
    return html`<section class="tap-aim" aria-label="Aiming off">
      <p>${aim.words}</p>
      <div class="acts">
        ${actButton(
          this.screen,
          this.handle,
          `Aim off by ${formatAngle(radiansFromArcsec(Math.abs(arcsec)))} ${arcsec > 0 ? 'counter-clockwise' : 'clockwise'}`,
          {
            kind: 'change setup',
            change: { aimOff: { stage, arcsec, spreadArcsec, jobs } },
          },
        )}
        <a class="act" href="#proof/vise">See the jobs</a>
      </div>
    </section>`;
  }

  private async look(now: string): Promise<void> {
    const found = await fetchLearned();
    // Without it there is no offer; the tap itself needs none of it.
    if (now === this.seen) this.learned = found.ok ? found.value : null;
  }
}
