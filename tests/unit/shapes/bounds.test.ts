import { type Cut, makeFrameCutter } from '@taptrue/server/shapes/cut-frames.ts';
import { decodeFrame } from '@taptrue/server/shapes/decode-frame.ts';
import { SHAPES } from '@taptrue/server/shapes/shape-table.ts';
import { describe, expect, it } from 'vitest';
import { likelyBytes, seededRandom } from './seeded-bytes.ts';

/** All shapes together are fed this much. */
const RANDOM_BYTES = 1_000_000;

describe.each(SHAPES.map((shape) => [shape.name, shape] as const))('%s', (name, shape) => {
  const { longestBytes } = shape.framing;

  it('never throws on random bytes, holds no more than twice its longest frame, gives finite numbers', () => {
    const random = seededRandom(name.length * 7919);
    const cutter = makeFrameCutter(shape.framing);
    let left = Math.ceil(RANDOM_BYTES / SHAPES.length);
    let frames = 0;
    let longestHeld = 0;
    while (left > 0) {
      const length = Math.min(left, 1 + Math.floor(random() * 400));
      left -= length;
      for (const cut of cutter.feed(likelyBytes(length, random))) {
        if (cut.text.length > 2 * longestBytes) expect(cut.text.length).toBeLessThanOrEqual(0);
        if (cut.kind !== 'frame') continue;
        frames += 1;
        const decoded = decodeFrame(cut.body, shape);
        if (decoded.kind === 'invalid' || decoded.value === null) continue;
        if (!Number.isFinite(decoded.value)) expect(decoded.value).toBe('a finite number');
      }
      longestHeld = Math.max(longestHeld, cutter.heldBytes);
    }
    expect(longestHeld).toBeLessThanOrEqual(2 * longestBytes);
    // A frame of fixed length with its line end in place is too rare in random bytes to count on.
    if (shape.framing.fixedBytes === undefined) expect(frames).toBeGreaterThan(100);
  });

  it('holds no more than its longest frame over a megabyte without an end of line', () => {
    const cutter = makeFrameCutter(shape.framing, 'between frames');
    const chunk = Buffer.alloc(4096, '7');
    let cuts: Cut[] = [];
    for (let sent = 0; sent < 1_048_576; sent += chunk.length) {
      cuts = cutter.feed(chunk);
      expect(cutter.heldBytes).toBeLessThanOrEqual(longestBytes);
    }
    const sample = shape.samples[0]!.frame;
    const after = cutter.feed(Buffer.from(sample + sample, 'latin1'));
    expect(after.filter((cut) => cut.kind === 'frame').length).toBeGreaterThanOrEqual(1);
    expect(cuts.every((cut) => cut.kind === 'dropped')).toBe(true);
  });

  it('decodes any text without throwing', () => {
    const random = seededRandom(31);
    for (let round = 0; round < 3000; round += 1) {
      const bytes = likelyBytes(Math.floor(random() * 60), random);
      const decoded = decodeFrame(Buffer.from(bytes).toString('latin1'), shape);
      expect(decoded.kind === 'invalid' || decoded.kind === 'reading').toBe(true);
    }
  });
});
