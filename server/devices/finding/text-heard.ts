import { escapeControls } from '../formats/escape-controls.ts';
import { EIGHTH_BITS, type EighthBit, hasOddOnes, readThrough } from './eighth-bit.ts';

/** What came of one listening, as text: with which meaning of the eighth bit it prints, and its whole lines. */
export interface TextHeard {
  eighth: EighthBit;
  /** As a port set like the device would have heard it, Latin-1. */
  bytes: Uint8Array;
  /** The last whole lines, control bytes escaped. */
  lines: readonly string[];
  wholeLines: number;
  /**
   * Characters with an even and with an odd number of ones came, so that none were lost for their parity. A
   * line without those it lost prints as well, and is another.
   */
  nothingLost: boolean;
  /** Characters of a whole line, on average: with the wrong parity some of each line are lost. */
  meanLineLength: number;
}

/** Share of bytes that must print; a glitch at the beginning may spoil two in a hundred. */
const WHOLE_TEXT = 0.98;
/** The piece before the first line end may be half a line, so that one whole line needs two. */
const LEAST_LINE_ENDS = 2;
const LINES_SHOWN = 4;

/** Pure. Null: it is no text with any meaning of the eighth bit, or has no whole line. */
export function textHeard(raw: Uint8Array): TextHeard | null {
  for (const eighth of EIGHTH_BITS) {
    const bytes = readThrough(raw, eighth);
    let printing = 0;
    for (const byte of bytes) if (prints(byte)) printing += 1;
    if (raw.length === 0 || printing < raw.length * WHOLE_TEXT) continue;
    const pieces = Buffer.from(bytes)
      .toString('latin1')
      .split(/(?<=\r\n|\n|\r(?!\n))/);
    if (pieces.length <= LEAST_LINE_ENDS) continue;
    const whole = pieces.slice(1, -1).filter((line) => line.trim() !== '');
    if (whole.length === 0) continue;
    const characters = whole.reduce((sum, line) => sum + line.length, 0);
    return {
      eighth,
      bytes,
      lines: whole.slice(-LINES_SHOWN).map(escapeControls),
      wholeLines: whole.length,
      nothingLost: bothParities(whole.join('')),
      meanLineLength: characters / whole.length,
    };
  }
  return null;
}

function bothParities(text: string): boolean {
  const odd = [...Buffer.from(text, 'latin1')].filter(hasOddOnes).length;
  return odd > 0 && odd < text.length;
}

const STX = 0x02;

/** Printing characters, line ends, and the byte that begins a line on some devices. */
export function prints(byte: number): boolean {
  return (byte >= 0x20 && byte < 0x7f) || byte === 0x0d || byte === 0x0a || byte === STX;
}
