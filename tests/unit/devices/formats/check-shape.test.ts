import type { LineShape } from '@taptrue/protocol';
import { checkShape } from '@taptrue/server/devices/formats/check-shape.ts';
import { escapeControls } from '@taptrue/server/devices/formats/escape-controls.ts';
import { SHAPES, shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';

const good = shapeNamed('signed-decimal')!;
const fixed = shapeNamed('fixed-digit-frame')!;

describe('a line shape', () => {
  it.each([
    ['a field of an unknown kind', { ...good, fields: [{ kind: 'guess' }] }, /fields\/0/],
    ['a speed below 110', { ...good, port: { ...good.port, baudRate: 1 } }, /port\/baudRate/],
    ['no digits', { ...good, fields: [{ kind: 'spaces', atLeast: 0 }] }, /digits exactly once/],
    ['asked without a request', { ...good, trigger: 'asked' }, /request is missing/],
    [
      'a fixed length without a start',
      { ...fixed, framing: { terminator: '\r', fixedBytes: 11, longestBytes: 13 } },
      /framing.fixedBytes needs framing.start/,
    ],
    [
      'a longest frame that is too short',
      { ...fixed, framing: { ...fixed.framing, longestBytes: 12 } },
      /framing.longestBytes is shorter/,
    ],
    [
      'a point field that is missing',
      { ...fixed, fields: fixed.fields.filter((field) => field.kind !== 'point') },
      /fields\[2\].point and the point field/,
    ],
    [
      'a sample with another value',
      { ...good, samples: good.samples.map((one) => ({ ...one, value: 9 })) },
      /samples\[0\].*value is read as 0.1234, the sample says 9/,
    ],
    [
      'a sample without its line end',
      { ...good, samples: good.samples.map((one) => ({ ...one, frame: '1.0' })) },
      /samples\[0\].*exactly one whole frame/,
    ],
  ])('with %s is refused, and the fault names it', (_what, candidate, names) => {
    const checked = checkShape(candidate);
    expect(checked.ok).toBe(false);
    if (!checked.ok) expect(checked.faults.map((fault) => fault.what).join('\n')).toMatch(names);
  });

  it('is found by its name, or not', () => {
    expect(shapeNamed('signed-decimal')?.name).toBe('signed-decimal');
    expect(shapeNamed('no-such-shape')).toBeNull();
  });

  it('has a name of its own', () => {
    const names = SHAPES.map((shape: LineShape) => shape.name);
    expect(new Set(names).size).toBe(names.length);
  });
});

describe('text as it came', () => {
  it.each([
    ['\x02+1.0\r\n', '\\x02+1.0\\r\\n'],
    ['\t\x00\x7f\xff', '\\t\\x00\\x7f\\xff'],
  ])('%j is shown as %s', (text, shown) => {
    expect(escapeControls(text)).toBe(shown);
  });

  it('is cut at 256 characters', () => {
    const shown = escapeControls('\x00'.repeat(256));
    expect(shown.length).toBeLessThanOrEqual(256);
    expect(shown.endsWith('…')).toBe(true);
  });
});
