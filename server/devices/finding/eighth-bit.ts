import type { PortSettings } from '@taptrue/protocol';

/** What the eighth bit of a byte heard with eight data bits is: data, or the parity of the seven below it. */
export type EighthBit = 'data' | 'even parity' | 'odd parity';

export const EIGHTH_BITS: readonly EighthBit[] = ['data', 'even parity', 'odd parity'];

/** Stands for a byte whose parity is wrong: no text holds it. */
const NO_CHARACTER = 0xff;

/** For each byte whether it has an odd number of ones. */
const ODD_ONES = Array.from({ length: 256 }, (_, byte) => {
  let ones = 0;
  for (let rest = byte; rest > 0; rest >>= 1) ones += rest & 1;
  return ones % 2 === 1;
});

export function hasOddOnes(byte: number): boolean {
  return ODD_ONES[byte] === true;
}

function withParity(low: number, parity: EighthBit): number {
  const up = ODD_ONES[low] === (parity === 'even parity');
  return up ? low | 0x80 : low;
}

/** The bytes as a port set to seven bits with that parity would have heard them. */
export function readThrough(heard: Uint8Array, eighth: EighthBit): Uint8Array {
  if (eighth === 'data') return heard;
  return heard.map((byte) => {
    const low = byte & 0x7f;
    return withParity(low, eighth) === byte ? low : NO_CHARACTER;
  });
}

/** The bytes that, sent with eight bits and no parity, put seven bits with that parity on the wire. */
export function writeThrough(bytes: Uint8Array, eighth: EighthBit): Uint8Array {
  return eighth === 'data' ? bytes : bytes.map((byte) => withParity(byte & 0x7f, eighth));
}

/** The port settings that the device itself has, where it was heard with these. */
export function settingsOf(heardWith: PortSettings, eighth: EighthBit): PortSettings {
  if (eighth === 'data') return heardWith;
  return { ...heardWith, dataBits: 7, parity: eighth === 'even parity' ? 'even' : 'odd' };
}
