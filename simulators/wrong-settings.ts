import type { PortSettings } from '@taptrue/protocol';
import { parityBit, type SerialWire } from './serial-wire.ts';

/**
 * What a driver does with a byte whose parity or stop bit is wrong: leaves it out, hands it over as it
 * is, or puts NUL in its place. All three are met; which one depends on system, driver and port flags.
 */
export type ErrorHandling = 'dropped' | 'kept' | 'as nul';

/**
 * A receiver set to `settings`, listening to a wire whose sender may be set otherwise. It works as such
 * circuits do: waits for the level to fall, looks again half a bit later, then samples the middle of each
 * of its own bits, and of the stop bits only the first. Two settings that differ in the number of stop
 * bits alone therefore hear each other.
 */
export class Receiver {
  readonly #wire: SerialWire;
  readonly #settings: PortSettings;
  readonly #errors: ErrorHandling;
  #atMs: number;

  constructor(wire: SerialWire, settings: PortSettings, errors: ErrorHandling, fromMs: number) {
    this.#wire = wire;
    this.#settings = settings;
    this.#errors = errors;
    this.#atMs = fromMs;
  }

  /** Bytes that were complete by `nowMs`, as the driver hands them over. */
  heardBy(nowMs: number): Uint8Array {
    const heard: number[] = [];
    const bitMs = 1000 / this.#settings.baudRate;
    const { dataBits, parity } = this.#settings;
    const sampledBits = 1 + dataBits + (parity === 'none' ? 0 : 1);
    for (;;) {
      const fallsMs = this.#wire.fallsAfter(this.#atMs);
      if (fallsMs === null || fallsMs + (sampledBits + 0.5) * bitMs > nowMs) break;
      if (this.#wire.levelAt(fallsMs + 0.5 * bitMs)) {
        this.#atMs = fallsMs + 0.5 * bitMs;
        continue;
      }
      this.#take(fallsMs, bitMs, sampledBits, heard);
      // From the middle of the stop bit on; where that was low, the level must first rise again.
      this.#atMs = fallsMs + (sampledBits + 0.5) * bitMs;
    }
    this.#wire.forgetBefore(this.#atMs);
    return Uint8Array.from(heard);
  }

  #take(fallsMs: number, bitMs: number, sampledBits: number, heard: number[]): void {
    const { dataBits, parity } = this.#settings;
    const level = (bit: number) => this.#wire.levelAt(fallsMs + (bit + 0.5) * bitMs);
    let byte = 0;
    for (let place = 0; place < dataBits; place += 1) if (level(1 + place)) byte |= 1 << place;
    const parityWrong = parity !== 'none' && level(1 + dataBits) !== parityBit(byte, parity);
    const stopWrong = !level(sampledBits);
    if ((!parityWrong && !stopWrong) || this.#errors === 'kept') heard.push(byte);
    else if (this.#errors === 'as nul' || byte === 0) heard.push(0);
  }
}
