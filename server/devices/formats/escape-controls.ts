/** Longest escaped text that a reading or report carries (protocol: `Reading.text`). */
const LONGEST_TEXT = 256;

const NAMED: Readonly<Record<string, string>> = { '\r': '\\r', '\n': '\\n', '\t': '\\t' };

function escapeOne(character: string): string {
  const code = character.charCodeAt(0);
  if (code >= 0x20 && code < 0x7f) return character;
  return NAMED[character] ?? `\\x${code.toString(16).padStart(2, '0')}`;
}

/**
 * Latin-1 text with everything that does not print as `\r`, `\n`, `\t` or `\x02`, so that what came is seen as
 * it came. Cut at 256 characters, marked by an ellipsis.
 */
export function escapeControls(text: string): string {
  let escaped = '';
  for (const character of text) {
    const piece = escapeOne(character);
    if (escaped.length + piece.length > LONGEST_TEXT - 1) return `${escaped}…`;
    escaped += piece;
  }
  return escaped;
}
