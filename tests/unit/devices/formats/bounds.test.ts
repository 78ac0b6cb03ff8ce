import type { LineShape } from '@taptrue/protocol';
import { makeShapeCutter } from '@taptrue/server/devices/formats/cut-frames.ts';
import { decodeFrame } from '@taptrue/server/devices/formats/decode-frame.ts';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';
import { likelyBytes, seededRandom } from './seeded-bytes.ts';

/** All shapes together are fed this much. */
const RANDOM_BYTES = 1_000_000;

/** Without a line end two frames in a row are looked at from every place, and one more comes in. */
function mostHeld({ framing }: LineShape): number {
  return (framing.terminator === 'no line end' ? 5 : 2) * framing.longestBytes;
}

describe.each(SHAPES.map((shape) => [shape.name, shape] as const))('%s', (name, shape) => {
  const { longestBytes } = shape.framing;

  it('never throws on random bytes, holds no more than twice its longest frame, gives finite numbers', () => {
    const random = seededRandom(name.length * 7919);
    const cutter = makeShapeCutter(shape);
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
    expect(longestHeld).toBeLessThanOrEqual(mostHeld(shape));
    // A frame of fixed length, or two right lines in a row, are too rare in random bytes to count on.
    const { fixedBytes, record } = shape.framing;
    if (fixedBytes === undefined && record === undefined) expect(frames).toBeGreaterThan(100);
  });

  it('holds no more than its longest frame over a megabyte without an end of line', () => {
    const cutter = makeShapeCutter(shape, 'between frames');
    const chunk = Buffer.alloc(4096, '7');
    for (let sent = 0; sent < 1_048_576; sent += chunk.length) {
      const cuts = cutter.feed(chunk);
      const before = sent > 8 * longestBytes;
      if (before && cuts.some((cut) => cut.kind === 'frame')) expect(cuts).toEqual('no frame');
      expect(cutter.heldBytes).toBeLessThanOrEqual(mostHeld(shape));
    }
    const sample = shape.samples[0]!.frame;
    const after = cutter.feed(Buffer.from(sample + sample, 'latin1'));
    expect(after.filter((cut) => cut.kind === 'frame').length).toBeGreaterThanOrEqual(1);
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
