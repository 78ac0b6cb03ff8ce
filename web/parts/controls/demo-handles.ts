import type { DemoAct, DemoSection } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { Screen } from '../../state/latest-state.ts';
import { actButton } from './act-button.ts';
import type { BenchHandle } from './bench-handle.ts';
import { choiceRow } from './choice-row.ts';
import { PlainElement } from './plain-element.ts';

/** One turn of a usual table handle, 0.2 in; the table moved right takes the stylus toward the left end. */
const TURN_MM = 5.08;
const SLOW_MM_PER_SECOND = 12;
const FAST_MM_PER_SECOND = 40;
/** The usual nudges, so that the two nudges can be played through. */
const JOGS = [
  { label: '0.005 in', mm: 0.127 },
  { label: '0.1 mm', mm: 0.1 },
] as const;

const BLOWS = ['light', 'medium', 'firm'] as const;
type Blow = (typeof BLOWS)[number];

/** The simulated bench's own handles: what hands would do at a real one. Drawn apart from the bench. */
@customElement('demo-handles')
export class DemoHandles extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  /** Where the mallet is at work its handles come first. */
  @property({ attribute: false }) malletFirst = false;
  @state() private blow: Blow = 'light';

  override render() {
    const { demo, replay } = this.screen.state;
    // What was recorded at the simulated bench is past: its handles move nothing.
    if (demo === null || replay !== null) return nothing;
    return html`<section class="demo" aria-label="Handles of the simulated bench">
      <h2>Hands on the simulated bench</h2>
      <div class="demo-groups">
        ${
          this.malletFirst
            ? html`${this.renderMallet()} ${this.renderTable(demo)} ${this.renderSaddle()}`
            : html`${this.renderTable(demo)} ${this.renderSaddle()} ${this.renderMallet()}`
        }
        <div class="demo-group">
          <h3>Indicator and vise</h3>
          <div class="acts">
            ${this.act('Press its send key', { act: 'send key' })}
            ${this.act('Zero the indicator', { act: 'zero indicator' })}
            ${this.act('Another vise', { act: 'new vise' })}
          </div>
        </div>
      </div>
      <p class="demo-event" role="status">${demo.lastEvent}</p>
    </section>`;
  }

  private renderTable(demo: DemoSection) {
    const nextMm = this.screen.state.sweep?.nextStation?.xMm ?? null;
    return html`<div class="demo-group">
      <h3>Table</h3>
      <div class="acts">
        ${this.act('To the next station', { act: 'table to', xMm: nextMm ?? demo.leftMm }, nextMm === null)}
        ${this.act('Table right a turn', { act: 'table to', xMm: demo.tableMm - TURN_MM })}
        ${this.act('Go to left end', { act: 'table to', xMm: demo.leftMm })}
        ${this.act('Go to right end', { act: 'table to', xMm: demo.rightMm })}
        ${
          demo.traversing
            ? this.act('Stop the table', { act: 'stop table' })
            : html`${this.traverse('Traverse slowly', SLOW_MM_PER_SECOND)} ${this.traverse('Traverse fast', FAST_MM_PER_SECOND)}`
        }
      </div>
    </div>`;
  }

  private renderSaddle() {
    return html`<div class="demo-group">
      <h3>Saddle</h3>
      <div class="acts">
        ${JOGS.map(({ label, mm }) => this.act(`Away ${label}`, { act: 'saddle', towardColumnMm: mm }))}
        ${JOGS.map(({ label, mm }) => this.act(`Toward ${label}`, { act: 'saddle', towardColumnMm: -mm }))}
      </div>
    </div>`;
  }

  private renderMallet() {
    const { leftEndMm, rightEndMm } = this.screen.state.setup.vise;
    return html`<div class="demo-group">
      <h3>Mallet strikes</h3>
      <div class="acts">
        ${this.strike('Left away', leftEndMm, 'away')} ${this.strike('Right away', rightEndMm, 'away')}
        ${this.strike('Left toward', leftEndMm, 'toward')} ${this.strike('Right toward', rightEndMm, 'toward')}
      </div>
        ${choiceRow(
          'Blow',
          BLOWS.map((value) => ({ value, label: value })),
          this.blow,
          !this.screen.mayCommand,
          (value) => {
            this.blow = value;
          },
        )}
    </div>`;
  }

  private act(label: string, act: DemoAct, disabled = false) {
    return actButton(this.screen, this.handle, label, { kind: 'demo', do: act }, { disabled });
  }

  private strike(label: string, xMm: number, way: 'away' | 'toward') {
    return this.act(label, { act: 'strike', xMm, way, blow: this.blow });
  }

  /** To whichever end is farther from where the stylus stands. */
  private traverse(label: string, mmPerSecond: number) {
    const demo = this.screen.state.demo!;
    const toMm = demo.tableMm < (demo.leftMm + demo.rightMm) / 2 ? demo.rightMm : demo.leftMm;
    return this.act(label, { act: 'traverse', toMm, mmPerSecond });
  }
}
