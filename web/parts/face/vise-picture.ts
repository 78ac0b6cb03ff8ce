import { type SweptState, sweptScene } from '@taptrue/protocol';
import {
  degOf,
  drawStrike,
  drawSwept,
  type SweptLayout,
  type SweptScene,
  stylusMarks,
  sweptLayout,
} from '@taptrue/protocol/picture';
import { html, nothing, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { LatestState } from '../../state/latest-state.ts';
import { sideWords } from '../../view/words.ts';
import type { BenchHandle } from '../controls/bench-handle.ts';
import { PlainElement } from '../controls/plain-element.ts';
import { pictureMarks } from './picture-marks.ts';
import { pictureWords } from './picture-words.ts';

const DRAWN_FROM = ['setup', 'sweep', 'pivot', 'tap', 'plan'] as const;

/** The vise as it lies under the indicator, to scale, the swept axis level; how crooked it is is exaggerated. */
@customElement('vise-picture')
export class VisePicture extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) bench!: SweptState;
  /** Where the stylus is parked; null: wherever the readout or the next station says. */
  @property({ attribute: false }) stylusMm: number | null = null;
  @state() private size = { widthPx: 0, heightPx: 0 };
  @query('.stylus') private stylus!: SVGGElement | null;
  @query('.drawing') private drawing!: HTMLElement | null;

  private layout: SweptLayout | null = null;
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

  /** A needle that moves changes the bench at every reading and this drawing not at all. */
  protected override shouldUpdate(changed: PropertyValues<this>): boolean {
    const before = changed.get('bench');
    return (
      before === undefined ||
      changed.size > 1 ||
      DRAWN_FROM.some((section) => before[section] !== this.bench[section])
    );
  }

  override render() {
    const { widthPx, heightPx } = this.size;
    const isMeasured = widthPx >= 50 && heightPx >= 50;
    const scene = isMeasured ? sweptScene(this.bench) : null;
    // One box in both cases: another one would be measured no more.
    this.layout = scene === null ? null : sweptLayout(scene, this.size);
    const { layout } = this;
    return html`<div class="drawing">${scene === null || layout === null ? nothing : this.draw(scene, layout)}</div>
      ${layout === null ? nothing : pictureWords(this.bench, layout)}`;
  }

  /** The stylus is moved by `paint` at the rate of the readings, without this being drawn anew. */
  private draw(scene: SweptScene, layout: SweptLayout) {
    const { widthPx, heightPx } = this.size;
    return html`<svg
      width=${widthPx}
      height=${heightPx}
      viewBox="0 0 ${widthPx} ${heightPx}"
      role="img"
      aria-label=${this.describe(layout)}
    >
      ${pictureMarks(drawSwept(scene, layout, this.size))}
      <g class="stylus" visibility="hidden">
        <g transform="rotate(${degOf(layout.out)}) scale(${layout.glyphSize.toFixed(2)})">${pictureMarks(stylusMarks())}</g>
      </g>
      ${pictureMarks(drawStrike(layout))}
      <text class="side-word" x=${widthPx / 2} y="19" text-anchor="middle">${sideWords(this.bench.setup.axis).top}</text>
    </svg>`;
  }

  private describe(layout: SweptLayout): string {
    const crooked =
      layout.exaggeration === null
        ? 'nothing measured yet'
        : `its lean drawn ${layout.exaggeration} times`;
    const { high, low } = sideWords(this.bench.setup.axis);
    const mallet =
      layout.mallet === null
        ? ''
        : `, mallet at the ${layout.mallet.at.x > layout.pivot.xPx ? high : low} end, striking ${layout.mallet.strikes === 'up' ? 'away' : 'toward'}`;
    return `The vise seen from above: ${crooked}${mallet}`;
  }
}
