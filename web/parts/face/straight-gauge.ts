import { formatLength, type LengthUnit, usualDecimals } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { LatestState } from '../../state/latest-state.ts';
import {
  type GaugeScale,
  gaugeScale,
  graduationDecimals,
  graduations,
  MINORS_PER_MAJOR,
  type Notch,
  needlePlace,
  notchSpan,
  numberEvery,
} from '../../view/gauge-scale.ts';
import { readingText } from '../../view/reading-standing.ts';
import { standingNow } from '../../view/standing-now.ts';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';
import { STANDING_SHAPES } from './standing-shapes.ts';

const RULE_TOP = 40;
const RULE_HEIGHT = 66;
const HEIGHT = RULE_TOP + RULE_HEIGHT;
const SIDE = 44;
const NOTCH_DEPTH = 26;
const LEAST_NOTCH = 14;
/** Room that `+0.0015` takes in the rule's figures, with a gap. */
const NUMBER_WIDTH = 76;

/**
 * A straight rule with the notch the needle must come to rest in. Graduations are drawn when the scale
 * changes; needle, number and word are set by the frame loop and nothing else.
 */
@customElement('straight-gauge')
export class StraightGauge extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) notch: Notch | null = null;
  /** A reading keyed in, shown where no device sends one. */
  @property({ attribute: false }) keyedMm: number | null = null;
  @property({ attribute: false }) parkedMm: number | null = null;
  /** Off where the face already shows the reading as its one number. */
  @property({ attribute: false }) showsReading = true;
  /** Drawn this many times as tall, where it is read from afar. */
  @property({ attribute: false }) timesAsTall = 1;
  @state() private scale: GaugeScale | null = null;
  @state() private widthPx = 0;
  @query('.needle') private needle!: SVGGElement | null;
  @query('.gauge-reading') private number!: HTMLElement | null;
  @query('.gauge-unit') private unit!: HTMLElement | null;
  @query('.gauge-word') private word!: HTMLElement | null;
  @query('.gauge-shape') private shape!: SVGPathElement | null;

  private leave: (() => void) | null = null;
  private readonly resized = new ResizeObserver(([entry]) => {
    if (entry !== undefined) this.widthPx = Math.round(entry.contentRect.width / this.timesAsTall);
  });

  override connectedCallback(): void {
    super.connectedCallback();
    this.resized.observe(this);
    this.leave = this.handle.loop.add(this.paint);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.resized.disconnect();
    this.leave?.();
  }

  private readonly paint = (latest: LatestState, nowMs: number): void => {
    if (latest.state === null) return;
    const { setup, replay } = latest.state;
    const standing = standingNow(latest, latest.state, nowMs);
    const keyed = standing.reading === null ? this.keyedMm : null;
    const readingMm = standing.reading?.valueMm ?? keyed;
    const unit = standing.reading?.unit ?? setup.displayUnit;
    this.settleScale(unit, readingMm);
    const word = keyed === null ? standing.word : 'keyed in';
    const text =
      keyed === null
        ? readingText(standing.reading)
        : formatLength(keyed, unit, { plus: true, bare: true });
    const place =
      this.scale === null || standing.word === 'lost' ? null : needlePlace(readingMm, this.scale);
    const at = SIDE + (place?.fraction ?? 0) * (this.widthPx - 2 * SIDE);
    setAttribute(this.needle, 'transform', `translate(${at.toFixed(1)} 0)`);
    setAttribute(this.needle, 'visibility', place === null ? 'hidden' : 'visible');
    setText(this.number, text);
    setText(this.unit, readingMm === null ? '' : unit);
    // What was live when it was recorded is not live on a replay.
    const told = replay !== null && word === 'live' ? 'recorded' : word;
    setText(this.word, place?.beyond ? `off the scale ${place.beyond} · ${told}` : told);
    setAttribute(this.shape, 'd', STANDING_SHAPES[word]);
    this.classList.toggle('greyed', keyed === null && standing.greyed);
  };

  private settleScale(unit: LengthUnit, readingMm: number | null): void {
    const marks = [this.parkedMm, this.notch?.lowMm, this.notch?.highMm, readingMm];
    const shown = marks.filter((mark): mark is number => typeof mark === 'number');
    this.scale = gaugeScale(unit, this.notch?.readingMm ?? 0, shown, this.scale);
  }

  override render() {
    return html`
      <div class="gauge-head">
        <div class="gauge-state">
          <svg viewBox="0 0 24 24" aria-hidden="true"><path class="gauge-shape"></path></svg>
          <span class="gauge-word"></span>
        </div>
        <div class="gauge-number ${this.showsReading ? '' : 'unseen'}">
          <span class="gauge-reading"></span><span class="gauge-unit"></span>
        </div>
        <div class="gauge-stop">${
          this.notch === null || this.scale === null
            ? nothing
            : html`stop at
          <strong>${this.stopText(this.scale.unit)}</strong>`
        }</div>
      </div>
      ${this.renderRule()}
    `;
  }

  private stopText(unit: LengthUnit): string {
    return formatLength(this.notch!.readingMm, unit, { plus: true, decimals: usualDecimals(unit) });
  }

  private renderRule() {
    const { scale, widthPx, timesAsTall } = this;
    const ready = scale !== null && widthPx > 0;
    return html`<svg
      class="rule"
      width=${Math.max(1, widthPx * timesAsTall)}
      height=${HEIGHT * timesAsTall}
      viewBox="0 0 ${Math.max(1, widthPx)} ${HEIGHT}"
      role="img"
      aria-label="Straight scale of the indicator with its needle"
    >
      ${ready ? this.renderBody(scale) : nothing}
      ${ready ? this.renderGraduations(scale) : nothing}
      ${ready && this.parkedMm !== null ? this.renderParked(scale) : nothing}
      <g class="needle" visibility="hidden">
        <path class="needle-head" d="M-11 0h22v14l-8 10v0h-6v0l-8-10z"></path>
        <path class="needle-pin" d="M-3 22h6V64l-3 8l-3-8z"></path>
      </g>
    </svg>`;
  }

  private notchEdges(scale: GaugeScale): { from: number; to: number } | null {
    if (this.notch === null) return null;
    const { fromPx, toPx } = notchSpan(this.notch, scale, this.widthPx - 2 * SIDE, LEAST_NOTCH);
    return { from: fromPx + SIDE, to: toPx + SIDE };
  }

  /** The rule as one outline, so that the notch is cut out of it and not painted on it. */
  private renderBody(scale: GaugeScale) {
    const right = this.widthPx - 1;
    const bottom = HEIGHT - 1;
    const notch = this.notchEdges(scale);
    if (notch === null) {
      return svg`<path class="rule-body" d="M1 ${RULE_TOP}H${right}V${bottom}H1Z"></path>`;
    }
    const { from, to } = notch;
    const shoulder = RULE_TOP + 7;
    const outline = `M1 ${RULE_TOP}H${from - 6}L${from} ${shoulder}V${RULE_TOP + NOTCH_DEPTH}H${to}V${shoulder}L${to + 6} ${RULE_TOP}H${right}V${bottom}H1Z`;
    return svg`<path class="rule-body" data-notch-from=${from} data-notch-to=${to} d=${outline}></path>`;
  }

  private renderGraduations(scale: GaugeScale) {
    const width = this.widthPx - 2 * SIDE;
    const decimals = graduationDecimals(scale);
    const every = numberEvery(scale, width, NUMBER_WIDTH);
    const marks = graduations(scale);
    const middle = (marks.length - 1) / 2;
    return marks.map((mark, index) => {
      const x = SIDE + mark.fraction * width;
      const inNotch = this.isInNotch(x, scale);
      const numbered = mark.value !== null && ((index - middle) / MINORS_PER_MAJOR) % every === 0;
      return svg`<path class="mark mark-${mark.length}" d="M${x.toFixed(1)} ${inNotch ? RULE_TOP + NOTCH_DEPTH : RULE_TOP}v${inNotch ? 6 : mark.length === 'long' ? 30 : 16}"></path>
        ${
          numbered
            ? svg`<text class="mark-number" x=${x.toFixed(1)} y=${HEIGHT - 9}>${signed(mark.value!, decimals)}</text>`
            : nothing
        }`;
    });
  }

  private isInNotch(xPx: number, scale: GaugeScale): boolean {
    const notch = this.notchEdges(scale);
    return notch !== null && xPx >= notch.from - 6 && xPx <= notch.to + 6;
  }

  private renderParked(scale: GaugeScale) {
    const place = needlePlace(this.parkedMm, scale);
    if (place === null) return nothing;
    const x = SIDE + place.fraction * (this.widthPx - 2 * SIDE);
    return svg`<path class="parked-mark" d="M${x - 7} ${RULE_TOP - 12}h14l-7 11z"></path>`;
  }
}

function signed(value: number, decimals: number): string {
  const digits = Math.abs(value).toFixed(decimals);
  if (Number(digits) === 0) return '0';
  return `${value < 0 ? '−' : '+'}${digits}`;
}

function setText(element: Element | null, text: string): void {
  if (element !== null && element.textContent !== text) element.textContent = text;
}

function setAttribute(element: Element | null, name: string, value: string): void {
  if (element !== null && element.getAttribute(name) !== value) element.setAttribute(name, value);
}
