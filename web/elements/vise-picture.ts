import { html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { LatestState } from '../state/latest-state.ts';
import { type PictureLayout, type PictureState, pictureLayout } from '../view/picture-layout.ts';
import { sideWords } from '../view/words.ts';
import type { BenchHandle } from './bench-handle.ts';
import { drawMallet, drawPivot, drawPoints, drawVise } from './picture-parts.ts';
import { pictureWords } from './picture-words.ts';
import { PlainElement } from './plain-element.ts';

/** The vise seen from above, to scale along the swept axis, the operator at the bottom. */
@customElement('vise-picture')
export class VisePicture extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) bench!: PictureState;
  /** Where the stylus is parked; null: wherever the readout or the next station says. */
  @property({ attribute: false }) stylusMm: number | null = null;
  @state() private size = { widthPx: 0, heightPx: 0 };
  @query('.stylus') private stylus!: SVGGElement | null;
  @query('.drawing') private drawing!: HTMLElement | null;

  private layout: PictureLayout | null = null;
  private leave: (() => void) | null = null;
  private readonly resized = new ResizeObserver(([entry]) => {
    if (entry === undefined) return;
    const { width, height } = entry.contentRect;
    this.size = { widthPx: Math.round(width), heightPx: Math.round(height) };
  });

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.drawing !== null) this.resized.observe(this.drawing);
    this.leave = this.handle.loop.add(this.paint);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.resized.disconnect();
    this.leave?.();
  }

  override firstUpdated(): void {
    if (this.drawing !== null) this.resized.observe(this.drawing);
  }

  private readonly paint = (latest: LatestState): void => {
    if (this.stylus === null || this.layout === null || latest.state === null) return;
    const xMm =
      this.stylusMm ?? latest.state.live.xMm ?? this.bench.sweep?.nextStation?.xMm ?? null;
    const transform =
      xMm === null
        ? ''
        : `translate(${this.layout.xPx(xMm).toFixed(1)} ${this.layout.edgeYPx(xMm).toFixed(1)})`;
    if (this.stylus.getAttribute('transform') === transform) return;
    this.stylus.setAttribute('transform', transform);
    this.stylus.setAttribute('visibility', xMm === null ? 'hidden' : 'visible');
  };

  override render() {
    const { widthPx, heightPx } = this.size;
    const isMeasured = widthPx >= 50 && heightPx >= 50;
    // One box in both cases: another one would be measured no more.
    this.layout = isMeasured ? pictureLayout(this.bench, this.size) : null;
    const { layout } = this;
    return html`<div class="drawing">${layout === null ? nothing : this.draw(layout)}</div>
      ${layout === null ? nothing : pictureWords(this.bench, layout)}`;
  }

  private draw(layout: PictureLayout) {
    const { widthPx, heightPx } = this.size;
    const words = sideWords(this.bench.setup.axis);
    const pivotX = layout.pivot.xPx.toFixed(1);
    const turned = `rotate(${layout.tiltDeg.toFixed(3)} ${pivotX} ${layout.wantedYPx})`;
    return html`<svg
      width=${widthPx}
      height=${heightPx}
      viewBox="0 0 ${widthPx} ${heightPx}"
      role="img"
      aria-label=${this.describe(layout)}
    >
      <g transform=${turned}>${drawVise(layout, this.bench)}</g>
      <path
        class="wanted-line"
        d="M0 ${layout.wantedYPx}H${widthPx}"
      ></path>
      ${drawPoints(layout)} ${drawPivot(layout, this.bench.pivot.inUse)}
      <g class="stylus" visibility="hidden">
        <path class="stylus-stem" d="M0 5V${heightPx * 0.2}"></path>
        <path class="stylus-body" d="M-13 ${heightPx * 0.2}h26v18h-26z"></path>
        <circle class="stylus-ball" cy="5" r="6"></circle>
      </g>
      ${drawMallet(layout, heightPx)}
      <text class="side-word" x=${widthPx / 2} y="19" text-anchor="middle">${words.top}</text>
    </svg>`;
  }

  private describe(layout: PictureLayout): string {
    const crooked =
      layout.exaggeration === null
        ? 'nothing measured yet'
        : `drawn ${layout.exaggeration} times too crooked`;
    const { high, low } = sideWords(this.bench.setup.axis);
    const mallet =
      layout.mallet === null
        ? ''
        : `, mallet at the ${layout.mallet.xPx > layout.pivot.xPx ? high : low} end, striking ${layout.mallet.strikes === 'up' ? 'away' : 'toward'}`;
    return `The vise seen from above: ${crooked}${mallet}`;
  }
}
