import {
  hasGoodChecksum,
  type ModbusFrame,
  type ModbusWire,
  noTrouble,
  noteFirst,
  REFUSAL_BYTES,
  REFUSED_BIT,
} from './wire.ts';

/** The longest frame of the serial line (the standard: 256 bytes). */
const LONGEST_BYTES = 256;

/**
 * Modbus RTU. Nothing on the line marks where a frame begins, so the answer is looked for: unit, function and
 * length must be those asked for and the checksum must be right. What is not it is stepped over byte by byte:
 * the echo of an adapter, the tail of a late answer, a neighbour's talk.
 */
export class RtuWire implements ModbusWire {
  trouble = noTrouble();
  private buffer = Buffer.alloc(0);
  private unit = -1;
  private code = -1;
  private answerBytes = 0;

  ask(request: ModbusFrame): Buffer {
    this.trouble = noTrouble();
    this.buffer = Buffer.alloc(0);
    this.unit = request[0]!;
    this.code = request[1]!;
    this.answerBytes = 3 + 2 * request.readUInt16BE(4) + 2;
    return request;
  }

  feed(chunk: Uint8Array): ModbusFrame | null {
    noteFirst(this.trouble, chunk);
    const joined = Buffer.concat([this.buffer, chunk]);
    const surplus = Math.max(0, joined.length - LONGEST_BYTES);
    this.trouble.strayBytes += surplus;
    let rest = joined.subarray(surplus);
    for (;;) {
      const length = this.lengthAt(rest);
      if (length === 'too early' || (length !== null && rest.length < length)) break;
      if (length !== null) {
        const frame = rest.subarray(0, length);
        if (hasGoodChecksum(frame)) {
          this.buffer = Buffer.alloc(0);
          return Buffer.from(frame);
        }
        this.trouble.badChecksums += 1;
      }
      this.trouble.strayBytes += 1;
      rest = rest.subarray(1);
    }
    this.buffer = Buffer.from(rest);
    return null;
  }

  /** How long an answer that begins here would be; null: none begins here. */
  private lengthAt(rest: Buffer): number | null | 'too early' {
    if (rest.length < 3) return 'too early';
    if (rest[0] !== this.unit) return null;
    if (rest[1] === (this.code | REFUSED_BIT)) return REFUSAL_BYTES;
    return rest[1] === this.code && rest[2] === this.answerBytes - 5 ? this.answerBytes : null;
  }
}
