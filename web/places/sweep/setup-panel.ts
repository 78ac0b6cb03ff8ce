import { equalStationsMm } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { quantityOf, quantityOrNull } from '../../parts/controls/quantity-field.ts';
import { parseStationsMm, quantityText } from '../../view/quantity-text.ts';
import { sideWords } from '../../view/words.ts';
import { SetupPart } from './setup-part.ts';
import '../../parts/controls/quantity-field.ts';
import './setup-bench-part.ts';
import './setup-keyed-part.ts';
import './setup-limit-part.ts';
import './setup-timing-part.ts';

/** Way of working and limit, always open to the eye; the rest of the setup folds. */
@customElement('setup-panel')
export class SetupPanel extends SetupPart {
  @state() private stationsWhy = '';

  override render() {
    const { setup } = this;
    return html`<section class="setup" aria-label="Setup">
      <h2>Way of working</h2>
      <div class="setup-grid">
        ${choiceRow(
          'Positions are known by',
          [
            { value: 'stations', label: 'stations' },
            { value: 'readout', label: 'a readout' },
            { value: 'feed', label: 'constant feed' },
          ] as const,
          setup.way,
          this.off,
          (way) => this.change({ way }),
        )}
        ${choiceRow(
          'Lengths shown in',
          [
            { value: 'in', label: 'inches' },
            { value: 'mm', label: 'millimetres' },
          ] as const,
          setup.displayUnit,
          this.off,
          (displayUnit) => this.change({ displayUnit }),
        )}
        ${this.length('Swept length', setup.sweptLengthMm, (sweptLengthMm) => this.changeLength(sweptLengthMm))}
        ${setup.way === 'stations' ? this.renderStations() : nothing}
        ${setup.way === 'feed' ? this.renderFeed() : nothing}
        ${
          setup.way === 'readout'
            ? nothing
            : choiceRow(
                'Go back over it',
                [
                  { value: false, label: 'out only' },
                  { value: true, label: 'out and back' },
                ],
                setup.backPass,
                this.off,
                (backPass) => this.change({ backPass }),
              )
        }
        <setup-limit-part .handle=${this.handle} .screen=${this.screen}></setup-limit-part>
      </div>
      <details>
        <summary>Pivot, mallet, indicator and vise</summary>
        <setup-bench-part .handle=${this.handle} .screen=${this.screen}></setup-bench-part>
      </details>
      ${setup.way === 'readout' ? html`<setup-timing-part .handle=${this.handle} .screen=${this.screen}></setup-timing-part>` : nothing}
    </section>`;
  }

  /** Equally spaced stations follow the swept length; typed ones are left as they were typed. */
  private changeLength(sweptLengthMm: number): void {
    const { stationsMm, feed } = this.setup;
    this.change({
      sweptLengthMm,
      feed: { ...feed, distanceMm: sweptLengthMm },
      ...(this.areEquallySpaced()
        ? { stationsMm: equalStationsMm(0, sweptLengthMm, stationsMm.length) }
        : {}),
    });
  }

  private areEquallySpaced(): boolean {
    const { stationsMm, sweptLengthMm } = this.setup;
    const equal = equalStationsMm(0, sweptLengthMm, stationsMm.length);
    return equal.every((xMm, index) => Math.abs(xMm - stationsMm[index]!) < 1e-6);
  }

  private renderStations() {
    const { setup } = this;
    const { low } = sideWords(setup.axis);
    return html`
      <quantity-field
        .label=${'How many stations'}
        .kind=${'count'}
        .value=${setup.stationsMm.length}
        .note=${this.areEquallySpaced() ? 'equally spaced, 2 to 25' : 'typed by hand; a number here spaces them equally'}
        .disabled=${this.off}
        @quantity=${(event: Event) => this.spaceEqually(quantityOf(event))}
      ></quantity-field>
      <div class="wide">
        <label for="stations">Stations from the ${low} end, in the order taken</label>
        <input
          id="stations"
          autocomplete="off"
          spellcheck="false"
          .value=${setup.stationsMm.map((xMm) => quantityText(xMm, 'length', setup.displayUnit).replace(' ', '')).join('  ')}
          aria-invalid=${this.stationsWhy ? 'true' : 'false'}
          aria-describedby="stations-note"
          ?disabled=${this.off}
          @change=${this.takeStations}
        />
        <p id="stations-note" class=${this.stationsWhy ? 'field-why' : 'field-note'}>
          ${this.stationsWhy || 'Separated by spaces.'}
        </p>
      </div>
      ${choiceRow(
        'Readings come',
        [
          { value: 'keyed', label: 'typed in' },
          { value: 'device', label: 'from the device' },
        ] as const,
        setup.entry,
        this.off,
        (entry) => this.change({ entry }),
      )}
      ${setup.entry === 'keyed' ? html`<setup-keyed-part .handle=${this.handle} .screen=${this.screen}></setup-keyed-part>` : nothing}
    `;
  }

  private spaceEqually(count: number): void {
    if (count < 2 || count > 25) {
      this.stationsWhy = `${count} stations cannot be taken; 2 to 25 can.`;
      return;
    }
    this.stationsWhy = '';
    this.change({ stationsMm: equalStationsMm(0, this.setup.sweptLengthMm, count) });
  }

  private readonly takeStations = (event: Event): void => {
    const parsed = parseStationsMm(
      (event.target as HTMLInputElement).value,
      this.setup.displayUnit,
    );
    this.stationsWhy = parsed.ok ? '' : parsed.why;
    if (parsed.ok) this.change({ stationsMm: parsed.value });
  };

  private renderFeed() {
    const { feed, displayUnit, axis } = this.setup;
    const { low, high } = sideWords(axis);
    return html`
      ${choiceRow(
        'Starts at the',
        [
          { value: 'left', label: `${low} end` },
          { value: 'right', label: `${high} end` },
        ] as const,
        feed.startsAt,
        this.off,
        (startsAt) => this.change({ feed: { ...feed, startsAt } }),
      )}
      ${this.length('Distance between the marks', feed.distanceMm, (distanceMm) => this.change({ feed: { ...feed, distanceMm } }))}
      <quantity-field
        .label=${`Feed, ${displayUnit} per minute`}
        .unit=${displayUnit}
        .value=${feed.mmPerMin}
        .mayBeEmpty=${true}
        .emptyWord=${'timed by the marks'}
        .disabled=${this.off}
        @quantity=${(event: Event) => this.change({ feed: { ...feed, mmPerMin: quantityOrNull(event) } })}
      ></quantity-field>
    `;
  }
}
