import type { PortSettings } from '@taptrue/protocol';

/** Bytes of one direction that have left the sender and may still be heard; older ones are forgotten. */
const MOST_FRAMES_HELD = 8192;

/** One byte on the wire: its bits in the order sent, true is the resting level. */
interface SentByte {
  startMs: number;
  bitMs: number;
  bits: readonly boolean[];
}

function ones(byte: number): number {
  let count = 0;
  for (let rest = byte; rest > 0; rest >>= 1) count += rest & 1;
  return count;
}

/** Parity bit that a sender adds: even makes the number of ones even, odd makes it odd. */
export function parityBit(byte: number, parity: 'even' | 'odd'): boolean {
  return (ones(byte) % 2 === 1) === (parity === 'even');
}

/** Start bit, data bits lowest first, parity bit where there is one, stop bits. */
function bitsOf(byte: number, settings: PortSettings): boolean[] {
  const bits = [false];
  const data = settings.dataBits === 7 ? byte & 0x7f : byte & 0xff;
  for (let place = 0; place < settings.dataBits; place += 1) bits.push(((data >> place) & 1) === 1);
  if (settings.parity !== 'none') bits.push(parityBit(data, settings.parity));
  for (let stop = 0; stop < settings.stopBits; stop += 1) bits.push(true);
  return bits;
}

/** One direction of a serial line: levels over time, as one sender at one setting drives them. */
export class SerialWire {
  readonly #settings: PortSettings;
  readonly #sent: SentByte[] = [];
  #freeAtMs = Number.NEGATIVE_INFINITY;

  constructor(settings: PortSettings) {
    this.#settings = settings;
  }

  /** Bytes leave one behind the other, no sooner than `atMs`, at the sender's speed. */
  send(bytes: Uint8Array, atMs: number): void {
    const bitMs = 1000 / this.#settings.baudRate;
    for (const byte of bytes) {
      const startMs = Math.max(atMs, this.#freeAtMs);
      const bits = bitsOf(byte, this.#settings);
      this.#sent.push({ startMs, bitMs, bits });
      this.#freeAtMs = startMs + bits.length * bitMs;
    }
    const over = this.#sent.length - MOST_FRAMES_HELD;
    if (over > 0) this.#forget(over);
  }

  /** Level at a time: true where nobody sends. */
  levelAt(ms: number): boolean {
    const byte = this.#sent[this.#indexAt(ms)];
    if (byte === undefined) return true;
    const bit = Math.floor((ms - byte.startMs) / byte.bitMs);
    return byte.bits[bit] ?? true;
  }

  /** When the level next falls, at or after `ms`; null: not by what was sent so far. */
  fallsAfter(ms: number): number | null {
    let high = this.levelAt(ms);
    for (let index = Math.max(this.#indexAt(ms), 0); index < this.#sent.length; index += 1) {
      const { startMs, bitMs, bits } = this.#sent[index]!;
      if (startMs + bits.length * bitMs <= ms) continue;
      for (let bit = 0; bit < bits.length; bit += 1) {
        const beginsMs = startMs + bit * bitMs;
        if (beginsMs < ms) continue;
        if (high && !bits[bit]) return beginsMs;
        high = bits[bit]!;
      }
    }
    return null;
  }

  /** Nothing before this time will be asked for any more. */
  forgetBefore(ms: number): void {
    let over = 0;
    while (over < this.#sent.length - 1 && this.#sent[over + 1]!.startMs <= ms) over += 1;
    if (over > 64) this.#forget(over);
  }

  #forget(count: number): void {
    this.#sent.splice(0, count);
  }

  /** Index of the last byte that began at or before `ms`; -1: none. */
  #indexAt(ms: number): number {
    let low = 0;
    let high = this.#sent.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#sent[middle]!.startMs <= ms) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  }
}
