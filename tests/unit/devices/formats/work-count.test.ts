import type { LineShape, ShapeField } from '@taptrue/protocol';
import { checkShape } from '@taptrue/server/devices/formats/check-shape.ts';
import { decodeAxes } from '@taptrue/server/devices/formats/decode-frame.ts';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { afterEach, describe, expect, it, vi } from 'vitest';

afterEach(() => vi.restoreAllMocks());

/** As many texts as a map may have, all alike but for their last character. */
const texts = (length: number) =>
  Array.from({ length: 64 }, (_, n) => 'a'.repeat(length - 1) + String.fromCharCode(0x2460 + n));
const mapTo = <T>(length: number, value: T) =>
  Object.fromEntries(texts(length).map((text) => [text, value]));

/** Everything that may be left out, so that every text of every map is compared before the line is given up. */
const fields: ShapeField[] = [
  ...Array.from(
    { length: 58 },
    (): ShapeField => ({ kind: 'literal', text: `${'a'.repeat(31)}b`, optional: true }),
  ),
  { kind: 'status', map: mapTo(12, 'ok' as const), optional: true },
  { kind: 'unit', map: mapTo(8, 'mm' as const), optional: true },
  { kind: 'channel', allowed: texts(8), optional: true },
  { kind: 'sign', map: { '+': 1, '-': -1 }, optional: true },
  { kind: 'ignore', characters: 200, upTo: 'a' },
  { kind: 'digits', atLeast: 1, atMost: 12, point: { kind: 'written', mark: '.' } },
];
const hostile: LineShape = { ...shapeNamed('signed-decimal')!, name: 'hostile', fields };

describe('a shape made to be slow', () => {
  it('is of the right form: only its samples keep it out', () => {
    const checked = checkShape(hostile);
    if (checked.ok) throw new Error('it was taken');
    for (const fault of checked.faults) expect(fault.what).toMatch(/samples\[/);
  });

  it.each([16, 64, 256])(
    'compares each of its texts once with a line of %d characters',
    (length) => {
      const body = 'a'.repeat(length);
      // The maps are sorted at the first line; what counts is every later one.
      decodeAxes(body, hostile);
      const compares = vi.spyOn(String.prototype, 'startsWith');
      expect(decodeAxes(body, hostile).kind).toBe('invalid');
      const count = compares.mock.calls.length;
      compares.mockRestore();
      expect(count).toBe(58 + 3 * 64 + 2);
    },
  );

  it('reads no character of a long line twice while it takes digits or passes over', () => {
    const reads = (body: string) => {
      const spy = vi.spyOn(String.prototype, 'charAt');
      decodeAxes(body, shapeNamed('signed-decimal')!);
      const count = spy.mock.calls.length;
      spy.mockRestore();
      return count;
    };
    expect(reads('1'.repeat(256))).toBeLessThanOrEqual(16);
    expect(reads(`1.${'1'.repeat(9)}`)).toBeLessThanOrEqual(16);
  });
});
