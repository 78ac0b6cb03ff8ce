import { readKeyed } from '@taptrue/server/bench/keyed-reading.ts';
import { KeyBurst, type KeyDown, plainTyped } from '@taptrue/web/view/key-burst.ts';
import { describe, expect, it } from 'vitest';

/**
 * USB HID Usage Tables, keyboard page 0x07, and the code the page is given for each (W3C UI Events
 * KeyboardEvent code Values).
 */
const USAGES: readonly [usage: number, code: string, writes: string][] = [
  ...Array.from({ length: 9 }, (_, index): [number, string, string] => [
    0x1e + index,
    `Digit${index + 1}`,
    String(index + 1),
  ]),
  [0x27, 'Digit0', '0'],
  [0x2d, 'Minus', '-'],
  [0x36, 'Comma', ','],
  [0x37, 'Period', '.'],
  [0x2c, 'Space', ' '],
  [0x56, 'NumpadSubtract', '-'],
  [0x57, 'NumpadAdd', '+'],
  ...Array.from({ length: 9 }, (_, index): [number, string, string] => [
    0x59 + index,
    `Numpad${index + 1}`,
    String(index + 1),
  ]),
  [0x62, 'Numpad0', '0'],
  [0x63, 'NumpadDecimal', '.'],
];
const SHIFTED: readonly [usage: number, code: string, writes: string][] = [[0x2e, 'Equal', '+']];

/** What these usages write on a computer whose layout is set to French, to German. */
const FRENCH: Readonly<Record<string, string>> = {
  Digit1: '&',
  Digit2: 'é',
  Digit3: '"',
  Digit4: "'",
  Digit5: '(',
  Digit6: '-',
  Digit7: 'è',
  Digit8: '_',
  Digit9: 'ç',
  Digit0: 'à',
  Minus: ')',
  Period: ':',
  Comma: ';',
  NumpadDecimal: '.',
  Equal: '+',
};
const GERMAN: Readonly<Record<string, string>> = {
  Minus: 'ß',
  NumpadDecimal: ',',
  Equal: '`',
};

function codesOf(text: string): { code: string; shift: boolean }[] {
  return [...text].map((character) => {
    const plain = USAGES.find(([, , writes]) => writes === character);
    if (plain) return { code: plain[1], shift: false };
    return { code: SHIFTED.find(([, , writes]) => writes === character)![1], shift: true };
  });
}

/** The lead sends the usages of this text; the computer writes them by its layout. */
function sent(
  text: string,
  layout: Readonly<Record<string, string>> = {},
  gapMs = 12,
): { burst: KeyBurst; endMs: number; written: string } {
  const burst = new KeyBurst();
  const keys = codesOf(text).map(({ code, shift }, index): KeyDown => {
    const key = layout[code] ?? [...text][index]!;
    return { key, code, shift, atMs: 1000 + index * gapMs };
  });
  for (const key of keys) burst.push(key);
  return { burst, endMs: 1000 + keys.length * gapMs, written: keys.map(({ key }) => key).join('') };
}

describe('a lead that types', () => {
  it.each(USAGES)('usage 0x%s is the key %s and writes %s', (_usage, code, writes) => {
    const burst = new KeyBurst();
    // Behind a digit, so that it is a number whatever it is; a key no layout here writes with.
    const before: KeyDown = { key: '¤', code: 'Digit1', shift: false, atMs: 0 };
    burst.push(before);
    burst.push({ key: '¤', code, shift: false, atMs: 10 });
    expect(burst.text).toBe(`1${writes}`);
  });

  it.each([
    ['-0.0012', {}, '-0.0012'],
    ['+0.0012', {}, '+0.0012'],
    ['0,0125', {}, '0,0125'],
    ['-0.0012', FRENCH, '-0.0012'],
    ['+12.345', FRENCH, '+12.345'],
    ['-0.0012', GERMAN, '-0.0012'],
    ['+0.5', GERMAN, '+0.5'],
  ])('%s comes out as it was sent, whatever the layout writes', (text, layout, meant) => {
    const { burst, endMs } = sent(text, layout);
    expect(burst.isLead(endMs)).toBe(true);
    expect(burst.text).toBe(meant);
    const read = readKeyed(burst.text, { kind: 'length', unit: 'mm' });
    expect(read.ok && read.readingMm).toBeCloseTo(Number(meant.replace(',', '.')), 9);
  });

  it('that sends the keypad’s point is read though the layout writes a comma', () => {
    const burst = new KeyBurst();
    ['Numpad1', 'NumpadDecimal', 'Numpad2', 'Numpad5'].forEach((code, index) => {
      burst.push({
        key: code === 'NumpadDecimal' ? ',' : code.slice(-1),
        code,
        shift: false,
        atMs: index * 10,
      });
    });
    expect(burst.text).toBe('1,25');
  });

  it('keeps letters as they are: a unit behind the number', () => {
    const burst = new KeyBurst();
    [...'0.5mm'].forEach((key, index) => {
      burst.push({ key, code: `Key${key.toUpperCase()}`, shift: false, atMs: index * 10 });
    });
    expect(burst.text).toBe('0.5mm');
  });
});

describe('a lead is told from a hand by how fast it types', () => {
  it.each([
    [8, 7, true],
    [20, 7, true],
    [40, 7, true],
    [60, 7, false],
    [120, 7, false],
    [12, 3, false],
    [12, 4, true],
  ])('%i ms a key, %i keys: %s', (gapMs, keys, isLead) => {
    const text = '-0.0012'.slice(0, keys);
    const { burst, endMs } = sent(text, {}, gapMs);
    expect(burst.isLead(endMs)).toBe(isLead);
  });

  it('a hand that waits and then rolls over its last keys is a hand', () => {
    const burst = new KeyBurst();
    [0, 200, 380, 395, 410, 425].forEach((atMs) => {
      burst.push({ key: '1', code: 'Digit1', shift: false, atMs });
    });
    expect(burst.isLead(440)).toBe(false);
  });

  it('after a pause a new reading begins', () => {
    const burst = new KeyBurst();
    burst.push({ key: '9', code: 'Digit9', shift: false, atMs: 0 });
    [...'0.25'].forEach((key, index) => {
      burst.push({ key, code: '', shift: false, atMs: 1000 + index * 10 });
    });
    expect(burst.text).toBe('0.25');
    expect(burst.isLead(1040)).toBe(true);
  });

  it('holds no more than one reading’s keys, however much is typed', () => {
    const burst = new KeyBurst();
    for (let index = 0; index < 10_000; index += 1) {
      burst.push({ key: '1', code: 'Digit1', shift: false, atMs: index });
    }
    expect(burst.text).toHaveLength(64);
  });
});

describe('a lead that ends with no key', () => {
  const burstOf = (text: string, gapMs: number) => sent(text, {}, gapMs).burst;

  it.each([
    ['typed it all, quickly', '12.34', '12.34', 12, true],
    ['is a hand by its speed', '12.34', '12.34', 90, false],
    ['stands behind what a hand had typed', '12.34', '512.34', 12, false],
    ['typed too little to tell', '1.5', '1.5', 12, false],
  ])('%s', (_what, text, written, gapMs, isLead) => {
    expect(burstOf(text, gapMs).isAllOf(written)).toBe(isLead);
  });
});

describe('what a lead sends beside the characters', () => {
  it.each([
    ['\x020.0012\x03', '0.0012'],
    ['\uFEFF-1,5\u200B', '-1,5'],
    ['0.5\t', '0.5'],
    [' 0.5 ', '0.5'],
  ])('%o is taken as %s', (text, plain) => {
    expect(plainTyped(text)).toBe(plain);
  });
});
