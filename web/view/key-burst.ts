/** One key going down, as the page sees it. */
export interface KeyDown {
  /** What it means under this computer's layout: `1`, `,`, `Enter`. */
  key: string;
  /** Which key it is, whatever the layout: `Digit1`, `NumpadDecimal`. */
  code: string;
  shift: boolean;
  atMs: number;
}

/**
 * A lead that types sends a report every 8 to 20 ms, press and release apart; the fastest hand needs some
 * 60 ms a key, and does not keep that up over digits and signs (common practice, no source).
 */
export const LEAD_GAP_MS = 40;
/** A hand may roll over two or three keys as quickly; a reading has a sign or a point and several digits. */
export const LEAD_LEAST_KEYS = 4;
/** Longer than this between two keys, and a new one begins. */
const BURST_ENDS_AFTER_MS = 400;
const MOST_KEYS = 64;

/**
 * Where each key stands on the keyboard a lead takes for granted (USB HID usage page 0x07: digits 0x1E to
 * 0x27, minus 0x2D, equals 0x2E, comma 0x36, point 0x37; keypad 0x56 to 0x63). Under another layout the same
 * key writes another sign.
 */
const BY_CODE: Readonly<Record<string, readonly [plain: string, shifted: string]>> = {
  ...Object.fromEntries(
    Array.from({ length: 10 }, (_, digit) => [`Digit${digit}`, [String(digit), '']] as const),
  ),
  ...Object.fromEntries(
    Array.from(
      { length: 10 },
      (_, digit) => [`Numpad${digit}`, [String(digit), String(digit)]] as const,
    ),
  ),
  Minus: ['-', ''],
  NumpadSubtract: ['-', '-'],
  Equal: ['', '+'],
  NumpadAdd: ['+', '+'],
  Period: ['.', ''],
  NumpadDecimal: ['.', '.'],
  Comma: [',', ''],
  Space: [' ', ' '],
};

const NUMBER = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)/;

/** Keys as they come; tells a lead that types from a hand by how fast they come. Bounded. Pure. */
export class KeyBurst {
  #keys: KeyDown[] = [];

  /** A key that writes something. */
  push(key: KeyDown): void {
    const last = this.#keys.at(-1);
    if (last && key.atMs - last.atMs > BURST_ENDS_AFTER_MS) this.#keys = [];
    if (this.#keys.length < MOST_KEYS) this.#keys.push(key);
  }

  clear(): void {
    this.#keys = [];
  }

  /** True if what was typed up to now came too fast for a hand. */
  isLead(endedAtMs: number): boolean {
    const keys = this.#keys;
    const [first] = keys;
    if (!first || keys.length < LEAD_LEAST_KEYS) return false;
    const lasted = endedAtMs - first.atMs;
    return lasted <= keys.length * LEAD_GAP_MS;
  }

  /** True if a lead typed all that stands in the box and ended it with no key: a hand then takes it. */
  isAllOf(written: string): boolean {
    const last = this.#keys.at(-1);
    if (!last || !this.isLead(last.atMs)) return false;
    return this.#keys.map(({ key }) => key).join('') === written;
  }

  /** The text a lead meant: as this layout writes it where that is a number, else by the keys themselves. */
  get text(): string {
    const written = this.#keys.map(({ key }) => key).join('');
    if (NUMBER.test(written.trim())) return written;
    const byCode = this.#keys
      .map(({ key, code, shift }) => BY_CODE[code]?.[shift ? 1 : 0] ?? key)
      .join('');
    return NUMBER.test(byCode.trim()) ? byCode : written;
  }
}

/** True of a key that writes something. */
export function isWriting({ key }: { key: string }): boolean {
  return key.length === 1 || key === 'Dead';
}

/** The key as a burst takes it, from the browser's event. */
export function keyDownOf(event: {
  key: string;
  code: string;
  shiftKey: boolean;
  timeStamp: number;
}): KeyDown {
  const { key, code, shiftKey, timeStamp } = event;
  return { key, code, shift: shiftKey, atMs: timeStamp };
}

/** Without what a lead sends beside the characters: control bytes, zero-width signs. Pure. */
export function plainTyped(text: string): string {
  let plain = '';
  for (const character of text) {
    const code = character.codePointAt(0)!;
    const hidden =
      code < 0x20 || code === 0x7f || (code >= 0x200b && code <= 0x200f) || code === 0xfeff;
    if (!hidden) plain += character;
  }
  return plain.trim();
}
