import { type ModbusFrame, type ModbusWire, noTrouble, noteFirst, withChecksum } from './wire.ts';

/** Transaction, protocol (always 0), length of what follows: 6 bytes before the unit. */
const HEADER_BYTES = 6;
/** Unit and a body of at most 253 bytes (the standard). */
const LONGEST_LENGTH = 254;

/**
 * Modbus over TCP. The header says how long a frame is and which request it answers: a late answer is not
 * taken for the next one. Bytes that are no such header are dropped until the next request.
 */
export class TcpWire implements ModbusWire {
  trouble = noTrouble();
  private buffer = Buffer.alloc(0);
  private transaction = 0;
  private lost = false;

  ask(request: ModbusFrame): Buffer {
    this.trouble = noTrouble();
    if (this.lost) this.buffer = Buffer.alloc(0);
    this.lost = false;
    this.transaction = (this.transaction + 1) % 0x10000;
    const body = request.subarray(0, -2);
    const header = Buffer.alloc(HEADER_BYTES);
    header.writeUInt16BE(this.transaction, 0);
    header.writeUInt16BE(body.length, 4);
    return Buffer.concat([header, body]);
  }

  feed(chunk: Uint8Array): ModbusFrame | null {
    noteFirst(this.trouble, chunk);
    if (this.lost) {
      this.trouble.strayBytes += chunk.length;
      return null;
    }
    let rest = Buffer.concat([this.buffer, chunk]);
    let answer: ModbusFrame | null = null;
    while (rest.length > HEADER_BYTES && answer === null) {
      const length = rest.readUInt16BE(4);
      if (rest.readUInt16BE(2) !== 0 || length < 3 || length > LONGEST_LENGTH) {
        this.trouble.strayBytes += rest.length;
        this.lost = true;
        rest = Buffer.alloc(0);
        break;
      }
      if (rest.length < HEADER_BYTES + length) break;
      if (rest.readUInt16BE(0) === this.transaction) {
        answer = withChecksum(rest.subarray(HEADER_BYTES, HEADER_BYTES + length));
      }
      rest = rest.subarray(HEADER_BYTES + length);
    }
    // Behind the answer to the one request there is nothing to come: whatever follows is not kept for long.
    this.buffer = Buffer.from(rest.subarray(0, HEADER_BYTES + LONGEST_LENGTH));
    return answer;
  }
}
