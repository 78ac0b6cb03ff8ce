import {
  type Command,
  formatLength,
  formatSlope,
  type Setup,
  type SweepSection,
} from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { actButton, doButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { CaptureBox } from '../../parts/keying/capture-box.ts';
import type { TypedReading } from '../../parts/keying/keyed-doubt.ts';
import type { Screen } from '../../state/latest-state.ts';
import { sideWords } from '../../view/words.ts';
import '../../parts/keying/capture-box.ts';

const takeStation = (typed: TypedReading): Command => ({ kind: 'take station', ...typed });

/** Begin, take, turn, end: the buttons under the face while the handwheel is in the other hand. */
@customElement('sweep-controls')
export class SweepControls extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  /** Nudges are still to be done: beginning is possible, but not the thing to do now. */
  @property({ attribute: false }) nudgesFirst = false;
  @query('capture-box') private captureBox!: CaptureBox | null;

  override connectedCallback(): void {
    super.connectedCallback();
    document.addEventListener('keydown', this.onKey);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    document.removeEventListener('keydown', this.onKey);
  }

  override render() {
    const { sweep, setup } = this.screen.state;
    if (sweep?.state !== 'being taken') return this.renderIdle(sweep);
    return html`
      <div class="acts">${this.renderTaking(sweep, setup)}</div>
      <p class="live-line" aria-live="off">${this.liveLine(sweep, setup)}</p>
    `;
  }

  private renderIdle(sweep: SweepSection | null) {
    const { setup } = this.screen.state;
    const tap = sweep?.result?.tap;
    const { stage } = this.screen.state.bench;
    const holds = sweep?.outdated === '';
    const settled = sweep?.result?.verdict === 'true' && sweep.stage === stage && holds;
    const goTap = holds && tap != null && tap.amountMm > 0 && sweep?.result?.verdict !== 'true';
    return html`<div class="acts">
      ${goTap ? html`<a class="act act-now act-big" href="#tap">Go to the mallet</a>` : nothing}
      ${actButton(
        this.screen,
        this.handle,
        sweep === null ? 'Begin the sweep' : 'Sweep again',
        { kind: 'begin sweep' },
        {
          look: goTap || settled || this.nudgesFirst ? 'plain' : 'now',
          big: !this.nudgesFirst,
          keys: 'Ctrl Enter',
        },
      )}
      ${setup.way === 'readout' ? this.renderMarks() : nothing}
      ${
        sweep === null
          ? nothing
          : html`${actButton(this.screen, this.handle, 'Zero was moved', { kind: 'zero moved' })}
            ${actButton(this.screen, this.handle, 'New job', { kind: 'new job' })}`
      }
    </div>`;
  }

  private renderMarks() {
    const words = sideWords(this.screen.state.setup.axis);
    return html`${actButton(this.screen, this.handle, `Mark this as the ${words.low} end`, { kind: 'mark end', end: 'left' })}
      ${actButton(this.screen, this.handle, `Mark this as the ${words.high} end`, { kind: 'mark end', end: 'right' })}`;
  }

  private renderTaking(sweep: SweepSection, setup: Setup) {
    const finish = html`
      ${actButton(
        this.screen,
        this.handle,
        'End the sweep',
        { kind: 'end sweep' },
        {
          keys: 'Ctrl Enter',
          look: this.allTaken(sweep, setup) ? 'now' : 'plain',
        },
      )}
      ${actButton(this.screen, this.handle, 'Abandon it', { kind: 'abandon sweep' })}
    `;
    if (setup.way === 'readout') return html`${this.renderMarks()} ${finish}`;
    if (setup.way === 'feed') {
      return html`${
        sweep.feedRunning
          ? actButton(
              this.screen,
              this.handle,
              'Last mark passed',
              { kind: 'stop feed' },
              { look: 'now', big: true, keys: 'Space' },
            )
          : actButton(
              this.screen,
              this.handle,
              'First mark passed',
              { kind: 'start feed' },
              { look: 'now', big: true, keys: 'Space' },
            )
      } ${finish}`;
    }
    const over = sweep.nextStation === null;
    return html`
      ${
        setup.entry === 'keyed' && !over
          ? html`<capture-box
              .label=${this.captureLabel(setup)}
              .disabled=${!this.screen.mayCommand}
              .handle=${this.handle}
              .commandOf=${takeStation}
            ></capture-box>`
          : nothing
      }
      ${over ? nothing : doButton(this.screen, 'Take', this.take, { look: 'now', big: true, keys: setup.entry === 'keyed' ? 'Enter' : 'Space or Enter' })}
      ${actButton(this.screen, this.handle, 'Take back', { kind: 'take back' }, { disabled: sweep.points.length === 0, keys: 'Ctrl Backspace' })}
      ${finish}
    `;
  }

  private allTaken(sweep: SweepSection, setup: Setup): boolean {
    return setup.way === 'stations' && sweep.nextStation === null;
  }

  private captureLabel({ keyedAs }: Setup): string {
    if (keyedAs.kind === 'length') return `Reading, ${keyedAs.unit}`;
    if (keyedAs.kind === 'thousandths')
      return `Reading, thousandths of ${keyedAs.unit === 'in' ? 'an inch' : 'a mm'}`;
    return `Reading, divisions of ${formatLength(keyedAs.graduationMm, this.screen.state.setup.displayUnit)}`;
  }

  private liveLine(sweep: SweepSection, setup: Setup): string {
    if (sweep.samples === 0 && sweep.points.length === 0 && !sweep.feedRunning) {
      return 'Nothing has been taken yet.';
    }
    const taken = `${sweep.points.length} ${sweep.points.length === 1 ? 'point' : 'points'}`;
    const samples = setup.way === 'stations' ? '' : `, ${sweep.samples} readings`;
    const refused =
      sweep.pairsRefused === 0
        ? ''
        : `, ${sweep.pairsRefused} refused: no position came near enough in time`;
    const line =
      sweep.result === null
        ? sweep.noResultYet
        : `So far ${formatLength(sweep.result.endToEndMm, setup.displayUnit, { plus: true })} end to end (${formatSlope(sweep.result.slope, setup.displayUnit)}).`;
    return `${taken}${samples}${refused}. ${line}`;
  }

  private readonly take = (): void => {
    const { setup } = this.screen.state;
    if (setup.way === 'stations' && setup.entry === 'keyed') this.captureBox?.take();
    else void this.handle.command({ kind: 'take station' });
  };

  private readonly onKey = (event: KeyboardEvent): void => {
    if (event.repeat || event.altKey || event.metaKey || !this.screen.mayCommand) return;
    const { sweep, setup } = this.screen.state;
    const taking = sweep?.state === 'being taken';
    if (event.ctrlKey) {
      if (event.key === 'Enter') {
        event.preventDefault();
        void this.handle.command({ kind: taking ? 'end sweep' : 'begin sweep' });
      } else if (event.key === 'Backspace' && taking && setup.way === 'stations') {
        event.preventDefault();
        void this.handle.command({ kind: 'take back' });
      }
      return;
    }
    if (!taking || (event.key !== 'Enter' && event.key !== ' ')) return;
    if ((event.target as HTMLElement).closest('input, button, a, summary, select') !== null) return;
    event.preventDefault();
    if (setup.way === 'feed' && event.key === ' ') {
      void this.handle.command({ kind: sweep.feedRunning ? 'stop feed' : 'start feed' });
    } else if (setup.way === 'stations' && setup.entry === 'device' && sweep.nextStation !== null) {
      this.take();
    }
  };
}
