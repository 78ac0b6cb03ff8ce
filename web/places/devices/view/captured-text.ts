/** Names of the control bytes that stand in lines of devices. */
const NAMES: Readonly<Record<number, string>> = {
  0: 'NUL',
  2: 'STX',
  3: 'ETX',
  4: 'EOT',
  6: 'ACK',
  9: 'TAB',
  10: 'LF',
  13: 'CR',
  21: 'NAK',
  27: 'ESC',
};

/** One character of a line as a cell shows it: control bytes by name, a space as a low bar. */
export function cellText(character: string): string {
  const code = character.charCodeAt(0);
  if (character === ' ') return '␣';
  if (code > 0x20 && code < 0x7f) return character;
  return NAMES[code] ?? code.toString(16).toUpperCase().padStart(2, '0');
}

/** The same for a screen reader. */
export function cellWord(character: string): string {
  return character === ' ' ? 'space' : cellText(character);
}

const ESCAPES: Readonly<Record<string, string>> = { r: '\r', n: '\n', t: '\t', '\\': '\\' };

/** Pasted text as bytes: `\x02`, `\r` and `\n` as `taptrue listen` prints them stand for their bytes. */
export function fromPasted(text: string): string {
  return text.replace(/\\(?:x([0-9a-fA-F]{2})|([rnt\\]))/g, (_, hex?: string, letter?: string) =>
    hex === undefined
      ? (ESCAPES[letter ?? ''] ?? '')
      : String.fromCharCode(Number.parseInt(hex, 16)),
  );
}

/** Pairs of hexadecimal digits as bytes, whatever stands between them; null where it is no hex. */
export function fromHex(text: string): string | null {
  const bare = text.replace(/0x|[\s,;:]/gi, '');
  if (bare === '' || bare.length % 2 === 1 || /[^0-9a-f]/i.test(bare)) return null;
  return (bare.match(/../g) ?? [])
    .map((pair) => String.fromCharCode(Number.parseInt(pair, 16)))
    .join('');
}
