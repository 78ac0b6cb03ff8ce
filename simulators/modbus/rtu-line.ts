import type { LengthUnit } from '@taptrue/protocol';
import { answerTo, type ShownNow } from './registers.ts';

/** Unit, function, address, count, checksum: what reads, and every other request of fixed length. */
const REQUEST_BYTES = 8;
const CHECKSUM_BYTES = 2;

/** Several units on one serial line: each answers what is sent to its number, the others are quiet. */
export class RtuLine {
  readonly #units: ReadonlyMap<number, ShownNow>;
  readonly #unit: LengthUnit;
  readonly #answer: (bytes: Uint8Array) => void;
  #heard: Buffer = Buffer.alloc(0);

  constructor(
    units: ReadonlyMap<number, ShownNow>,
    unit: LengthUnit,
    answer: (bytes: Uint8Array) => void,
  ) {
    this.#units = units;
    this.#unit = unit;
    this.#answer = answer;
  }

  /**
   * Bytes as they come. The gap between frames does not outlive a computer's buffers: a request is known by
   * its checksum wherever it stands, and what is none is dropped.
   */
  hear(bytes: Uint8Array): void {
    let rest = Buffer.concat([this.#heard, bytes]);
    while (rest.length >= REQUEST_BYTES) {
      const frame = rest.subarray(0, REQUEST_BYTES);
      const isRequest = checksumOf(frame.subarray(0, -CHECKSUM_BYTES)) === frame.readUInt16LE(6);
      if (isRequest) this.#asked(frame);
      rest = rest.subarray(isRequest ? REQUEST_BYTES : 1);
    }
    this.#heard = Buffer.from(rest);
  }

  #asked(frame: Buffer): void {
    const shown = this.#units.get(frame[0]!);
    if (shown === undefined) return;
    const answer = answerTo(frame.subarray(1, -CHECKSUM_BYTES), shown, this.#unit);
    const body = Buffer.concat([frame.subarray(0, 1), answer]);
    const checksum = Buffer.alloc(CHECKSUM_BYTES);
    checksum.writeUInt16LE(checksumOf(body));
    this.#answer(Buffer.concat([body, checksum]));
  }
}

/** CRC of the serial line, bit by bit. Modbus over serial line V1.02, 6.2.2. */
function checksumOf(bytes: Uint8Array): number {
  let rest = 0xffff;
  for (const byte of bytes) {
    rest ^= byte;
    for (let bit = 0; bit < 8; bit += 1) rest = rest & 1 ? (rest >> 1) ^ 0xa001 : rest >> 1;
  }
  return rest;
}
