import { type Command, formatLength, type SetUpAsk, type SetUpBrief } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { actButton, doButton } from '../../parts/controls/act-button.ts';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { TypedReading } from '../../parts/keying/keyed-doubt.ts';
import type { Screen } from '../../state/latest-state.ts';
import { nextPlace } from './view/next-place.ts';
import '../../parts/keying/capture-box.ts';

/** What a set-up asks, and its readings place by place. */
@customElement('set-up-read')
export class SetUpRead extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) row!: SetUpBrief;
  @state() private at: string | null = null;
  /** How many stood there when the place was typed: the next one has a place of its own. */
  private seen = 0;

  override willUpdate(): void {
    const count = this.screen.state.setUps.chosen?.points.length ?? 0;
    if (count !== this.seen) this.at = null;
    this.seen = count;
  }

  override render() {
    const { setUps } = this.screen.state;
    const { chosen } = setUps;
    if (chosen === null) return nothing;
    const off = !this.screen.mayCommand;
    const { row } = this;
    return html`
      <div class="set-up-asks">
        ${
          row.planes.length > 1
            ? choiceRow(
                'Plane',
                row.planes.map((plane) => ({ value: plane, label: plane })),
                chosen.plane,
                off,
                (plane) =>
                  void this.handle.command({ kind: 'choose set-up', name: row.name, plane }),
              )
            : nothing
        }
        ${
          row.axes.length > 1
            ? choiceRow(
                'Along',
                row.axes.map((axis) => ({ value: axis, label: axis.toUpperCase() })),
                chosen.axis,
                off,
                (axis) => void this.handle.command({ kind: 'choose set-up', name: row.name, axis }),
              )
            : nothing
        }
        ${row.asks.map((ask) => this.renderAsk(ask, chosen.asked[ask.name] ?? '', off))}
        <p class="field-note">Nothing typed as limit: ${row.limitWords}.</p>
      </div>
      ${this.renderTaking(off)}
      ${this.renderPoints()}
    `;
  }

  private renderAsk(ask: SetUpAsk, text: string, off: boolean) {
    const tell = (words: string) =>
      void this.handle.command({ kind: 'tell set-up', ask: ask.name, text: words });
    const label = ask.name.replaceAll('-', ' ');
    if (ask.choices.length > 0) {
      const choices = [...ask.choices, ''].map((value) => ({
        value,
        label: value === '' ? 'not said' : value,
      }));
      return html`<div>${choiceRow(label, choices, text, off, tell)}<p class="field-note">${ask.words}</p></div>`;
    }
    return html`<div>
      <label>${label}${ask.needed ? ' (needed)' : ''}
        <input
          .value=${live(text)}
          autocomplete="off"
          spellcheck="false"
          maxlength="40"
          ?disabled=${off}
          @change=${(event: Event) => tell((event.target as HTMLInputElement).value)}
        /></label>
      <p class="field-note">${ask.words}</p>
    </div>`;
  }

  private renderTaking(off: boolean) {
    const { screen, handle, row } = this;
    const { links } = screen.state;
    const isLine = row.fit === 'line';
    const byDevice = links.indicator.state !== 'not set';
    return html`<div class="set-up-taking">
        <label>${isLine ? `Place, ${screen.state.setup.displayUnit}` : 'Place, degrees'}
          <input name="at" .value=${live(this.place())} autocomplete="off" maxlength="40" ?disabled=${off}
            @input=${(event: Event) => {
              this.at = (event.target as HTMLInputElement).value;
            }} /></label>
        ${
          byDevice
            ? doButton(
                screen,
                'Take what it shows',
                () => void this.handle.command({ kind: 'take set-up reading', at: this.place() }),
                {
                  look: 'now',
                  big: true,
                },
              )
            : html`<capture-box .handle=${this.handle} .label=${'Reading'} .disabled=${off} .commandOf=${this.commandOf}></capture-box>`
        }
      </div>
      <div class="set-up-acts">
        ${actButton(screen, handle, 'Take back', { kind: 'take back set-up reading' })}
        ${isLine ? actButton(screen, handle, 'Use the last sweep', { kind: 'take sweep for set-up' }) : nothing}
        ${
          row.isTurned
            ? doButton(
                screen,
                screen.state.setUps.chosen?.turned
                  ? 'Bar is back as at first'
                  : 'Bar is turned end for end',
                () => void handle.command({ kind: 'turn set-up round' }),
              )
            : nothing
        }
      </div>`;
  }

  private place(): string {
    const { setUps, setup } = this.screen.state;
    return this.at ?? nextPlace(this.row.fit, setUps.chosen?.points ?? [], setup);
  }

  private readonly commandOf = (typed: TypedReading): Command => ({
    kind: 'take set-up reading',
    at: this.place(),
    ...typed,
  });

  private renderPoints() {
    const { setUps, setup } = this.screen.state;
    const points = setUps.chosen?.points ?? [];
    if (points.length === 0)
      return html`<p>No reading yet. ${this.row.fit === 'circle' ? 'Eight even places are good.' : 'Five places or more are good.'}</p>`;
    const unit = setup.displayUnit;
    return html`<ol class="set-up-points">
      ${points.map(
        ({ xMm, angleDeg, readingMm, turned }) =>
          html`<li>${xMm === null ? `${+(angleDeg ?? 0).toFixed(2)}°` : formatLength(xMm, unit)}: ${formatLength(readingMm, unit, { plus: true })}${turned ? ', turned' : ''}</li>`,
      )}
    </ol>`;
  }
}
