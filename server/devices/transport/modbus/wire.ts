import crc16 from 'modbus-serial/utils/crc16.js';

/** The frame as the library has it on every line: unit, function, data, checksum low byte first. */
export type ModbusFrame = Buffer;

/** What came in answer to the last request, besides whole frames; told where no answer came in time. */
export interface WireTrouble {
  /** Bytes that belong to no answer of the unit that was asked. */
  strayBytes: number;
  /** Frames of the right form whose checksum is wrong. */
  badChecksums: number;
  /** What came first, for the fault to show. */
  firstBytes: Buffer;
}

/** How requests and answers lie on a line: RTU with its checksum, TCP with its header. */
export interface ModbusWire {
  /** The bytes to send for a request; what had come before it is dropped, it answers nothing. */
  ask(request: ModbusFrame): Buffer;
  /** Takes what came; gives the answer once it is whole. Never holds more than one frame. */
  feed(chunk: Uint8Array): ModbusFrame | null;
  readonly trouble: WireTrouble;
}

export function withChecksum(body: Uint8Array): ModbusFrame {
  const frame = Buffer.alloc(body.length + 2);
  frame.set(body);
  frame.writeUInt16LE(crc16(frame.subarray(0, -2)), body.length);
  return frame;
}

export function hasGoodChecksum(frame: Buffer): boolean {
  return crc16(frame.subarray(0, -2)) === frame.readUInt16LE(frame.length - 2);
}

export function noTrouble(): WireTrouble {
  return { strayBytes: 0, badChecksums: 0, firstBytes: Buffer.alloc(0) };
}

/** As many bytes as a line of a fault shows. */
const SHOWN_BYTES = 24;

export function noteFirst(trouble: WireTrouble, chunk: Uint8Array): void {
  if (trouble.firstBytes.length < SHOWN_BYTES) {
    trouble.firstBytes = Buffer.concat([trouble.firstBytes, chunk.subarray(0, SHOWN_BYTES)]);
  }
}

/** The bit that an answer's function has where the device refuses. */
export const REFUSED_BIT = 0x80;
/** Unit, function with the refused bit, reason, checksum. */
export const REFUSAL_BYTES = 5;
