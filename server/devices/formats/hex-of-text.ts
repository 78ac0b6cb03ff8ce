const NAMED: Readonly<Record<string, number>> = { r: 0x0d, n: 0x0a, t: 0x09 };

/** `02 2b 31 0d`: the bytes behind text that `escapeControls` has written. A cut end stays marked. Pure. */
export function hexOfText(escaped: string): string {
  const bytes: string[] = [];
  const pieces = escaped.matchAll(/\\x([0-9a-f]{2})|\\([rnt])|(.)/gsu);
  for (const [, hex, named, plain] of pieces) {
    if (hex !== undefined) bytes.push(hex);
    else if (named !== undefined) bytes.push(twoDigits(NAMED[named]!));
    else bytes.push(plain === '…' ? '…' : twoDigits(plain!.charCodeAt(0)));
  }
  return bytes.join(' ');
}

function twoDigits(byte: number): string {
  return byte.toString(16).padStart(2, '0');
}
