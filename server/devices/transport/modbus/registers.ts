import type { ByteOrder, RegisterForm, RegisterRead } from '@taptrue/protocol';

/** How many registers of 16 bits one number takes. */
export function registersOf(form: RegisterForm): 1 | 2 {
  return form === 'int16' || form === 'uint16' ? 1 : 2;
}

const ORDER: Readonly<Record<ByteOrder, readonly [number, number, number, number]>> = {
  ABCD: [0, 1, 2, 3],
  CDAB: [2, 3, 0, 1],
  BADC: [1, 0, 3, 2],
  DCBA: [3, 2, 1, 0],
};

/**
 * The number in its registers, given as the bytes that came over the wire (2 or 4). Null for a float that is
 * not a number: absent is not zero. Pure.
 */
export function numberIn(bytes: Uint8Array, form: RegisterForm, order: ByteOrder): number | null {
  const view = new DataView(new ArrayBuffer(4));
  if (registersOf(form) === 1) {
    // Of one register only its two bytes can stand the other way round.
    const swapped = order === 'BADC' || order === 'DCBA';
    view.setUint8(0, bytes[swapped ? 1 : 0]!);
    view.setUint8(1, bytes[swapped ? 0 : 1]!);
    return form === 'int16' ? view.getInt16(0) : view.getUint16(0);
  }
  ORDER[order].forEach((from, to) => {
    view.setUint8(to, bytes[from]!);
  });
  if (form === 'int32') return view.getInt32(0);
  if (form === 'uint32') return view.getUint32(0);
  const float = view.getFloat32(0);
  return Number.isFinite(float) ? float : null;
}

/** `Reading.decimals` goes to nine. */
const MOST_DECIMALS = 9;
/** A float names no last digit; these are a tenth of a micrometre, and ten-millionths would be noise. */
const FLOAT_DECIMALS = { mm: 4, in: 6 } as const;

/** Digits after the point that a count can change: 0.001 has three, 0.0005 has four. Pure. */
export function decimalsOf(read: RegisterRead, unit: 'mm' | 'in'): number {
  if (read.form === 'float32') return FLOAT_DECIMALS[unit];
  for (let decimals = 0; decimals < MOST_DECIMALS; decimals += 1) {
    if (Number(read.perCount.toFixed(decimals)) === read.perCount) return decimals;
  }
  return MOST_DECIMALS;
}

/** Counts to length, without the tail that binary fractions leave: 12345 × 0.001 is 12.345. Pure. */
export function lengthOf(count: number, perCount: number, decimals: number): number {
  return Number((count * perCount).toFixed(decimals));
}

/** `register 100: 3039 = 12345`, `registers 100-101: 47F1 2000 = 123456`. Pure. */
export function registersText(address: number, bytes: Uint8Array, number: number | null): string {
  const words: string[] = [];
  for (let at = 0; at + 1 < bytes.length; at += 2) {
    words.push(((bytes[at]! << 8) | bytes[at + 1]!).toString(16).toUpperCase().padStart(4, '0'));
  }
  const which = words.length === 1 ? `register ${address}` : `registers ${address}-${address + 1}`;
  return `${which}: ${words.join(' ')} = ${number === null ? 'not a number' : shown(number)}`;
}

/** A float of 32 bits has seven digits; the others are those of its last bit. */
function shown(number: number): string {
  return `${Number.isInteger(number) ? number : Number(number.toPrecision(7))}`;
}
