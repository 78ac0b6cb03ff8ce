import type { PortSettings } from '@taptrue/protocol';
import type { SimulatorClock } from './clock.ts';
import type { LeadSigns, MemoryPipe } from './over-memory.ts';
import { SerialWire } from './serial-wire.ts';
import { type ErrorHandling, Receiver } from './wrong-settings.ts';

/** A USB adapter hands over what it has every few milliseconds. */
const HANDED_OVER_EVERY_MS = 4;

export interface ControlLines {
  dtr: boolean;
  rts: boolean;
}

/** What sends and is asked: a simulated device, or a player of lines. */
export interface Speaker {
  attach(onBytes: (chunk: Uint8Array) => void, onGone: () => void): void;
  hear(bytes: Uint8Array): void;
  readonly sendsWhenAsked: boolean;
}

export interface WiredOptions {
  device: Speaker;
  /** How the device itself is set. */
  settings: PortSettings;
  clock: SimulatorClock;
  /** Whether the device has power and sends with the control lines so; usual: always. */
  wakes?: (lines: ControlLines) => boolean;
  /** What the port tells of the lead at these levels; usual: it cannot read its status lines. */
  leadSigns?: (lines: ControlLines) => LeadSigns;
  errors?: ErrorHandling;
  /** From a request to its answer. */
  answersAfterMs?: number;
  /** The lead gives back what is sent, as half-duplex leads do. */
  echoes?: boolean;
}

/**
 * A device at the end of a wire with a speed, data bits and parity of its own. Whoever listens with
 * other settings hears what a port set so would hear, no sooner than the wire carries it.
 */
export class WiredDevice {
  readonly #options: WiredOptions;
  readonly #fromDevice: SerialWire;
  #lines: ControlLines | null = null;

  constructor(options: WiredOptions) {
    this.#options = options;
    this.#fromDevice = new SerialWire(options.settings);
    options.device.attach(
      (bytes) => this.#speak(bytes),
      () => undefined,
    );
  }

  /** The port as one who opens it with these settings and levels has it. */
  pipe(settings: PortSettings, lines: ControlLines): MemoryPipe {
    const { clock, device, errors = 'dropped', echoes = false, leadSigns } = this.#options;
    let stop = (): void => undefined;
    const toDevice = new SerialWire(settings);
    const ear = new Receiver(toDevice, this.#options.settings, 'dropped', clock.nowMs());
    let give = (_bytes: Uint8Array): void => undefined;
    return {
      attach: (onBytes) => {
        this.#lines = lines;
        give = onBytes;
        const receiver = new Receiver(this.#fromDevice, settings, errors, clock.nowMs());
        stop = clock.every(HANDED_OVER_EVERY_MS, () => {
          const asked = ear.heardBy(clock.nowMs());
          if (asked.length > 0 && this.#awake()) device.hear(asked);
          const heard = receiver.heardBy(clock.nowMs());
          if (heard.length > 0) onBytes(heard);
        });
      },
      detach: () => {
        stop();
        this.#lines = null;
      },
      send: (bytes) => {
        toDevice.send(bytes, clock.nowMs());
        if (echoes) give(bytes);
      },
      ...(leadSigns && { leadSigns: () => leadSigns(lines) }),
    };
  }

  #awake(): boolean {
    const { wakes = () => true } = this.#options;
    return wakes(this.#lines ?? { dtr: false, rts: false });
  }

  #speak(bytes: Uint8Array): void {
    if (!this.#awake()) return;
    const { clock, device, answersAfterMs = 30 } = this.#options;
    const wait = device.sendsWhenAsked ? answersAfterMs : 0;
    this.#fromDevice.send(bytes, clock.nowMs() + wait);
  }
}
