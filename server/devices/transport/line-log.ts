import type { LineView, Reading } from '@taptrue/protocol';
import { escapeControls } from '../formats/escape-controls.ts';

/** Frames shown: enough to see a pattern, few enough to read while they run by. */
const FRAMES_KEPT = 6;
/** Gaps looked back over: at ten a second the last three seconds. */
const GAPS_KEPT = 32;
/** A jitter of fewer gaps than this says nothing. */
const LEAST_GAPS = 4;

/** Bytes shown with their line ends: two or three lines of most devices. */
const BYTES_KEPT = 48;

type Row = { text: string; understood: string };

/** What came last as it came, what was made of it, and how evenly it comes. Bounded; constant cost a frame. */
export class LineLog {
  #rows: Row[] = [];
  #gapsMs: number[] = [];
  #nextGap = 0;
  #lastAtMs: number | null = null;
  #missed = false;
  #bytes = new Uint8Array(0);

  /** Bytes as they came, whole lines or not. */
  bytes(chunk: Uint8Array): void {
    const last = chunk.subarray(Math.max(0, chunk.length - BYTES_KEPT));
    const before = this.#bytes.subarray(Math.max(0, this.#bytes.length + last.length - BYTES_KEPT));
    const kept = new Uint8Array(before.length + last.length);
    kept.set(before);
    kept.set(last, before.length);
    this.#bytes = kept;
  }

  /** A frame or what should have been one. */
  came(text: string): void {
    this.#rows.push({ text, understood: '' });
    if (this.#rows.length > FRAMES_KEPT) this.#rows.shift();
  }

  /** The frame that came last was understood as this; a frame with several axes as several. */
  understood(reading: Reading): void {
    const row = this.#rows.at(-1);
    if (row)
      row.understood = [row.understood, wordsOf(reading)].filter(Boolean).join('; ').slice(0, 256);
  }

  /** A reading was given. True if it is the first again after something else. */
  gave(atMs: number): boolean {
    const again = this.#missed;
    this.#missed = false;
    if (this.#lastAtMs !== null) {
      this.#gapsMs[this.#nextGap] = atMs - this.#lastAtMs;
      this.#nextGap = (this.#nextGap + 1) % GAPS_KEPT;
    }
    this.#lastAtMs = atMs;
    return again;
  }

  /** What came was none, after readings had come. */
  missed(): void {
    if (this.#lastAtMs !== null) this.#missed = true;
  }

  /** Opened anew: the gap since the last reading is not the device's own. */
  begin(): void {
    this.#lastAtMs = null;
    this.#gapsMs = [];
    this.#nextGap = 0;
    this.#missed = false;
  }

  /** `hexOf` null: what came was no bytes of ours. */
  view(nowMs: number, hexOf: ((text: string) => string) | null): LineView {
    const sorted = [...this.#gapsMs].sort((one, other) => one - other);
    const usualMs = sorted.length < LEAST_GAPS ? null : (sorted[sorted.length >> 1] ?? null);
    const largest = Math.max(...sorted.map((gapMs) => Math.abs(gapMs - (usualMs ?? gapMs))));
    return {
      rows: this.#rows.map((row) => ({ ...row, hex: hexOf?.(row.text) ?? '' })),
      bytes: {
        text: escapeControls(Buffer.from(this.#bytes).toString('latin1')),
        hex: [...this.#bytes].map((byte) => byte.toString(16).padStart(2, '0')).join(' '),
      },
      usualGapMs: usualMs,
      jitterMs: usualMs === null ? null : largest,
      sinceLastMs: this.#lastAtMs === null ? null : Math.max(0, nowMs - this.#lastAtMs),
    };
  }
}

function wordsOf({ channel, value, decimals, unit, status }: Reading): string {
  const number =
    value === null ? 'no number' : `${value.toFixed(decimals).replace('-', '−')} ${unit}`;
  return [channel, number, status === 'ok' ? null : status].filter(Boolean).join(', ');
}
