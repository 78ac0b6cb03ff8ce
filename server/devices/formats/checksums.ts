import type { ChecksumRule } from '@taptrue/protocol';

/** Bytes that a checksum of this rule takes in the frame. */
export function checksumBytes(rule: ChecksumRule): 1 | 2 {
  return rule === 'crc-16/modbus' || rule === 'crc-16/xmodem' ? 2 : 1;
}

function crc(
  bytes: Uint8Array,
  { width, polynomial, first }: { width: 8 | 16; polynomial: number; first: number },
): number {
  const top = 1 << (width - 1);
  const mask = (1 << width) - 1;
  let register = first;
  for (const byte of bytes) {
    register ^= byte << (width - 8);
    for (let bit = 0; bit < 8; bit += 1) {
      register = (register & top) === 0 ? register << 1 : (register << 1) ^ polynomial;
    }
    register &= mask;
  }
  return register;
}

/** Lowest bit first, as Modbus over serial line has it: polynomial 0xA001 is 0x8005 mirrored. */
function crcModbus(bytes: Uint8Array): number {
  let register = 0xffff;
  for (const byte of bytes) {
    register ^= byte;
    for (let bit = 0; bit < 8; bit += 1) {
      register = (register & 1) === 0 ? register >>> 1 : (register >>> 1) ^ 0xa001;
    }
  }
  return register;
}

function sum(bytes: Uint8Array): number {
  let total = 0;
  for (const byte of bytes) total += byte;
  return total & 0xff;
}

const RULES: Readonly<Record<ChecksumRule, (bytes: Uint8Array) => number>> = {
  sum,
  'negative sum': (bytes) => -sum(bytes) & 0xff,
  xor: (bytes) => bytes.reduce((all, byte) => all ^ byte, 0),
  'crc-8': (bytes) => crc(bytes, { width: 8, polynomial: 0x07, first: 0 }),
  'crc-16/modbus': crcModbus,
  'crc-16/xmodem': (bytes) => crc(bytes, { width: 16, polynomial: 0x1021, first: 0 }),
};

/** The checksum of these bytes, 8 or 16 bits. */
export function checksumOf(rule: ChecksumRule, bytes: Uint8Array): number {
  return RULES[rule](bytes);
}

/** The checksum as it stands in a frame: hexadecimal characters, or the half bytes of a packed one. */
export function checksumText(rule: ChecksumRule, bytes: Uint8Array, lowByteFirst: boolean): string {
  const hex = checksumOf(rule, bytes)
    .toString(16)
    .padStart(2 * checksumBytes(rule), '0');
  return lowByteFirst && hex.length === 4 ? hex.slice(2) + hex.slice(0, 2) : hex;
}
