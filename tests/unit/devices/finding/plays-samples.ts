import type { LineShape } from '@taptrue/protocol';
import type { SimulatorClock } from '@taptrue/simulators/clock.ts';
import type { Speaker } from '@taptrue/simulators/wired-device.ts';

/**
 * A device that sends the lines typed as its shape's samples, over and over: what devices of this form
 * were written down to send, not what a simulator makes of the shape.
 */
export class PlaysSamples implements Speaker {
  readonly sendsWhenAsked: boolean;
  readonly #frames: Buffer[];
  #onBytes: ((chunk: Uint8Array) => void) | null = null;
  #at = 0;
  #asked = '';

  constructor(
    private readonly shape: LineShape,
    private readonly clock: SimulatorClock,
    private readonly readingsPerSecond: number,
  ) {
    this.sendsWhenAsked = shape.trigger === 'asked';
    this.#frames = shape.samples
      .filter(({ value }) => value !== null)
      .map(({ frame }) => Buffer.from(frame, 'latin1'));
  }

  attach(onBytes: (chunk: Uint8Array) => void): void {
    this.#onBytes = onBytes;
    if (this.shape.trigger !== 'streams') return;
    this.clock.every(1000 / this.readingsPerSecond, () => this.send());
  }

  hear(bytes: Uint8Array): void {
    const { request } = this.shape;
    if (request === null) return;
    this.#asked = (this.#asked + Buffer.from(bytes).toString('latin1')).slice(-64);
    if (!this.#asked.includes(request.text)) return;
    this.#asked = '';
    this.send();
  }

  /** The next line; the device's own key. */
  send(): void {
    const frame = this.#frames[this.#at % this.#frames.length];
    this.#at += 1;
    if (frame) this.#onBytes?.(frame);
  }
}

/** What the device's screen says for each of the lines it plays. Lines without a unit: it shows millimetres. */
export function screensOf(
  shape: LineShape,
): { value: number; unit: 'mm' | 'in'; channel: string | null }[] {
  return shape.samples
    .flatMap((sample) => [sample, ...(sample.also ?? [])])
    .flatMap(({ value, unit, channel }) =>
      value === null ? [] : [{ value, unit: unit ?? 'mm', channel }],
    );
}
