import type { LineShape } from '@taptrue/protocol';

type Packed = NonNullable<LineShape['packed']>;

/** The half bytes of Latin-1 text, written 0 to f, in the order the shape has them. */
export function halfBytes(text: string, packed: Packed): string {
  let halves = '';
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at) & 0xff;
    const high = (code >> 4).toString(16);
    const low = (code & 15).toString(16);
    halves += packed === 'high nibble first' ? high + low : low + high;
  }
  return halves;
}

/** Latin-1 text of these half bytes; an odd one at the end is left out. */
export function fromHalfBytes(halves: string, packed: Packed): string {
  let text = '';
  for (let at = 0; at + 1 < halves.length; at += 2) {
    const first = Number.parseInt(halves.charAt(at), 16);
    const second = Number.parseInt(halves.charAt(at + 1), 16);
    text += String.fromCharCode(
      packed === 'high nibble first' ? first * 16 + second : second * 16 + first,
    );
  }
  return text;
}
