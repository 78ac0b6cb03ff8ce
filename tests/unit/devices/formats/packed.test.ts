import type { ChecksumRule, LineShape } from '@taptrue/protocol';
import { checkShape } from '@taptrue/server/devices/formats/check-shape.ts';
import { checksumOf } from '@taptrue/server/devices/formats/checksums.ts';
import { makeShapeCutter } from '@taptrue/server/devices/formats/cut-frames.ts';
import { decodeAxes } from '@taptrue/server/devices/formats/decode-frame.ts';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { isShiftProof } from '@taptrue/server/devices/formats/shift-proof.ts';
import { describe, expect, it } from 'vitest';
import { countUnderCrc, digitsUnderXor } from './packed-shapes.ts';

describe('checksums', () => {
  // Check values of the public catalogue of parametrised CRC algorithms for "123456789".
  it.each<[ChecksumRule, number]>([
    ['crc-8', 0xf4],
    ['crc-16/modbus', 0x4b37],
    ['crc-16/xmodem', 0x31c3],
    // Plain arithmetic: 0x31 + … + 0x39 = 0x1dd.
    ['sum', 0xdd],
    ['negative sum', 0x23],
    ['xor', 0x31],
  ])('%s of "123456789" is %d', (rule, value) => {
    expect(checksumOf(rule, Buffer.from('123456789'))).toBe(value);
  });

  // Frames seen in public, low byte first on the wire; 02 07 from memory the worked example of the standard.
  it.each([
    ['02 07', '41 12'],
    ['01 03 00 00 00 02', 'c4 0b'],
    ['01 03 01 89 00 02', '14 1d'],
    ['01 03 00 3c 00 02', '04 07'],
    ['01 03 00 00 00 01', '84 0a'],
  ])('the Modbus CRC of %s is %s', (frame, wire) => {
    const value = checksumOf('crc-16/modbus', Buffer.from(frame.replaceAll(' ', ''), 'hex'));
    const bytes = [value & 0xff, value >> 8].map((byte) => byte.toString(16).padStart(2, '0'));
    expect(bytes.join(' ')).toBe(wire);
  });
});

describe('a packed shape', () => {
  it.each([digitsUnderXor, countUnderCrc])('$name runs its own samples', (shape) => {
    const checked = checkShape(shape);
    expect(checked.ok ? [] : checked.faults).toEqual([]);
  });

  const without = (shape: LineShape, kind: string): LineShape => ({
    ...shape,
    framing: { ...shape.framing, fixedBytes: 4, longestBytes: 8 },
    fields: [
      ...shape.fields.filter((field) => field.kind !== kind),
      { kind: 'literal', text: '00' },
    ],
  });

  it.each<[string, LineShape, RegExp]>([
    [
      'a count that may hold anything and no checksum',
      { ...without(countUnderCrc, 'checksum') },
      /nothing tells where a frame begins/,
    ],
    [
      'fields that do not fill it',
      { ...digitsUnderXor, framing: { ...digitsUnderXor.framing, fixedBytes: 6 } },
      /fill 10 half bytes, framing.fixedBytes has room for 12/,
    ],
    [
      'a field without a fixed width',
      { ...digitsUnderXor, fields: [{ kind: 'spaces', atLeast: 1 }, ...digitsUnderXor.fields] },
      /one fixed width/,
    ],
    [
      'bytes that begin inside one',
      {
        ...digitsUnderXor,
        fields: [
          { kind: 'literal', text: '0' },
          ...digitsUnderXor.fields,
          { kind: 'literal', text: '0' },
        ],
        framing: { ...digitsUnderXor.framing, fixedBytes: 6 },
      },
      /begins inside one/,
    ],
    ['text without a line end', { ...digitsUnderXor, packed: undefined } as never, /./],
  ])('with %s is refused', (_what, shape, why) => {
    const checked = checkShape(shape);
    if (checked.ok) throw new Error('it was taken');
    expect(checked.faults[0]!.what).toMatch(why);
  });

  it('of digits is proof against shifting, a count is not', () => {
    expect(isShiftProof(shapeNamed('thirteen-half-bytes')!)).toBe(true);
    expect(isShiftProof(countUnderCrc)).toBe(false);
  });
});

const valuesOf = (shape: LineShape, chunks: string[]) => {
  const cutter = makeShapeCutter(shape, 'anywhere');
  return chunks
    .flatMap((chunk) => cutter.feed(Buffer.from(chunk, 'latin1')))
    .flatMap((cut) => (cut.kind === 'frame' ? [decodeAxes(cut.body, shape)] : []))
    .flatMap((decoded) =>
      decoded.kind === 'readings' ? [decoded.readings[0]!.value] : [Number.NaN],
    );
};

describe('a frame without a line end, opened anywhere', () => {
  it.each([digitsUnderXor, countUnderCrc])('$name is found, and never read shifted', (shape) => {
    const frames = shape.samples.map((sample) => sample.frame);
    const stream = [...frames, ...frames, ...frames].join('');
    const values = [...shape.samples, ...shape.samples, ...shape.samples].map(({ value }) => value);
    for (let at = 0; at < frames[0]!.length; at += 1) {
      const read = valuesOf(shape, [stream.slice(at)]);
      expect(read.length).toBeGreaterThanOrEqual(values.length - 4);
      expect(read).toEqual(values.slice(values.length - read.length));
    }
  });

  it('is not believed where two places would do, until one is left', () => {
    // The count holds the start byte and what follows makes another frame of it: 1 in 65536 by chance.
    const shape: LineShape = {
      ...countUnderCrc,
      fields: [countUnderCrc.fields[0]!, { kind: 'checksum', rule: 'xor', of: 'after the start' }],
      framing: { ...countUnderCrc.framing, fixedBytes: 4 },
    };
    // aa 00 aa aa 00: xor of 00 aa aa is 00. Shifted by two: aa aa 00 aa 00, xor of aa 00 aa is 00 as well.
    const twofold = '\xaa\x00\xaa\xaa\x00';
    expect(valuesOf(shape, [twofold.repeat(20)])).toEqual([]);
    const plain = '\xaa\x39\x30\x00\x09';
    const read = valuesOf(shape, [twofold.repeat(20) + plain.repeat(4)]);
    // The last of the first kind is told by what follows it: 0xaaaa00 below 2^24, in thousandths.
    const twofoldMm = (0xaa_aa00 - 0x100_0000) / 1000;
    expect(new Set(read)).toEqual(new Set([twofoldMm, 12.345]));
  });
});
