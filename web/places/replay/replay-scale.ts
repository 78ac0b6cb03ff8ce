import type { RecordMark, RecordOverview } from '@taptrue/protocol';
import { html, nothing, svg } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fetchOverview } from '../../connection/replay-link.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import type { ReplayHandle } from './replay-handle.ts';
import { spanWords, sweepSpans } from './view/replay-words.ts';

const HEIGHT = 76;
/** Half of the grip: the range reaches from the middle of the grip at one end to its middle at the other. */
const SIDE = 12;
const MARKS_HEIGHT = 20;
/** A hand on the scale sends no more than ten places a second. */
const SEND_EVERY_MS = 100;
/** A picture that could not be had is asked for again after this. */
const ASK_AGAIN_AFTER_MS = 3_000;
/** Parts of the range: finer than a pixel of the widest screen. */
const STEPS = 4000;

/** The whole needle over time, with sweeps, taps and clamps marked, and the place it is at: drag it. */
@customElement('replay-scale')
export class ReplayScale extends PlainElement {
  @property({ attribute: false }) handle!: ReplayHandle;
  @property({ attribute: false }) screen!: Screen;
  @state() private overview: RecordOverview | null = null;
  @state() private widthPx = 0;
  /** Where the hand holds the grip; null: nobody does. */
  @state() private heldAt: number | null = null;

  private asked = '';
  private againTimer: ReturnType<typeof setTimeout> | null = null;
  private timer: ReturnType<typeof setTimeout> | null = null;
  private readonly resized = new ResizeObserver(([entry]) => {
    if (entry !== undefined) this.widthPx = Math.round(entry.contentRect.width);
  });

  override connectedCallback(): void {
    super.connectedCallback();
    this.resized.observe(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.resized.disconnect();
    if (this.timer !== null) clearTimeout(this.timer);
    if (this.againTimer !== null) clearTimeout(this.againTimer);
  }

  override updated(): void {
    void this.fetchOnce();
  }

  private get replay() {
    return this.screen.state.replay!;
  }

  private async fetchOnce(): Promise<void> {
    const columns = Math.max(1, this.widthPx - 2 * SIDE);
    const { job, beginsMs, endsMs } = this.replay;
    const asked = `${job} ${beginsMs} ${columns}`;
    if (this.widthPx === 0 || asked === this.asked) return;
    this.asked = asked;
    const overview = await fetchOverview(job, columns, { fromMs: beginsMs, toMs: endsMs });
    if (asked !== this.asked) return;
    if (overview === null) {
      this.againTimer = setTimeout(() => {
        this.asked = '';
        this.requestUpdate();
      }, ASK_AGAIN_AFTER_MS);
      return;
    }
    this.overview = overview;
    this.dispatchEvent(new CustomEvent('overview', { detail: overview }));
  }

  override render() {
    const { beginsMs, endsMs } = this.replay;
    const atMs = this.heldAt ?? this.replay.atMs;
    const part = endsMs > beginsMs ? (atMs - beginsMs) / (endsMs - beginsMs) : 0;
    return html`<div class="replay-scale">
      <svg width=${Math.max(1, this.widthPx)} height=${HEIGHT} aria-hidden="true">
        ${this.widthPx === 0 ? nothing : this.renderPicture()}
      </svg>
      <input
        type="range"
        min="0"
        max=${STEPS}
        step="1"
        aria-label="Time in the recording"
        aria-valuetext=${`${spanWords(atMs - beginsMs)} of ${spanWords(endsMs - beginsMs)}`}
        .value=${String(Math.round(part * STEPS))}
        @input=${this.onDrag}
        @change=${this.onDropped}
      />
    </div>`;
  }

  private xOf(atMs: number): number {
    const { beginsMs, endsMs } = this.replay;
    const part = endsMs > beginsMs ? (atMs - beginsMs) / (endsMs - beginsMs) : 0;
    return SIDE + Math.min(1, Math.max(0, part)) * (this.widthPx - 2 * SIDE);
  }

  private renderPicture() {
    const { beginsMs, endsMs } = this.replay;
    const marks = (this.overview?.marks ?? []).filter(
      ({ atMs }) => atMs >= beginsMs && atMs <= endsMs,
    );
    return svg`
      <path class="scale-ground" d="M${SIDE} ${HEIGHT - 1}H${this.widthPx - SIDE}"></path>
      ${sweepSpans(marks).map(({ number, beginsMs: from, endsMs: to }) => {
        const left = this.xOf(from);
        const width = Math.max(3, this.xOf(to ?? endsMs) - left);
        return svg`<path class="scale-sweep" d="M${left.toFixed(1)} ${MARKS_HEIGHT}v-5h${width.toFixed(1)}v${HEIGHT - MARKS_HEIGHT + 5}h${(-width).toFixed(1)}z"></path>
          ${width > 22 ? svg`<text class="scale-number" x=${(left + 4).toFixed(1)} y="14">${number}</text>` : nothing}`;
      })}
      <path class="scale-needle" d=${this.needlePath()}></path>
      ${marks.map((mark) => this.renderMark(mark))}
    `;
  }

  private renderMark({ kind, atMs }: RecordMark) {
    const x = this.xOf(atMs).toFixed(1);
    switch (kind) {
      case 'tap':
        return svg`<path class="scale-tap" d="M${x} ${MARKS_HEIGHT}l-5 -12h10z"></path>`;
      case 'stage':
        return svg`<path class="scale-stage" d="M${x} 2l6 7l-6 7l-6 -7z"></path>`;
      case 'station':
        return svg`<path class="scale-station" d="M${x} ${MARKS_HEIGHT}v8"></path>`;
      case 'fault':
        return svg`<path class="scale-fault" d="M${x} 2v9M${x} 14v4"></path>`;
      default:
        return nothing;
    }
  }

  /** Lowest to highest of each column, so that a single reading that stands out is seen. */
  private needlePath(): string {
    const { columns = [], fromMs = 0, toMs = 0 } = this.overview ?? {};
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const column of columns) {
      if (column === null) continue;
      low = Math.min(low, column.lowMm);
      high = Math.max(high, column.highMm);
    }
    if (low > high) return '';
    const top = MARKS_HEIGHT + 5;
    const perMm = high > low ? (HEIGHT - 6 - top) / (high - low) : 0;
    const yOf = (mm: number) => (high > low ? HEIGHT - 5 - (mm - low) * perMm : (top + HEIGHT) / 2);
    return columns
      .map((column, index) => {
        if (column === null) return '';
        const x = this.xOf(fromMs + ((index + 0.5) / columns.length) * (toMs - fromMs));
        const from = yOf(column.lowMm);
        return `M${x.toFixed(1)} ${(from + 0.8).toFixed(1)}V${(yOf(column.highMm) - 0.8).toFixed(1)}`;
      })
      .join('');
  }

  private readonly onDrag = (event: Event): void => {
    const { beginsMs, endsMs } = this.replay;
    const part = Number((event.target as HTMLInputElement).value) / STEPS;
    this.heldAt = beginsMs + part * (endsMs - beginsMs);
    this.timer ??= setTimeout(() => this.send(), SEND_EVERY_MS);
  };

  private readonly onDropped = (): void => this.send();

  private send(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
    const atMs = this.heldAt;
    if (atMs === null) return;
    // Let go once the replay stands there: the grip must not jump back meanwhile.
    void this.handle.move({ move: 'to', atMs }).then(() => {
      if (this.heldAt === atMs) setTimeout(() => this.letGo(atMs), 2 * SEND_EVERY_MS);
    });
  }

  private letGo(atMs: number): void {
    if (this.heldAt === atMs) this.heldAt = null;
  }
}
