import type { LineShape, ShapeSample } from '@taptrue/protocol';
import { makeShapeCutter } from './cut-frames.ts';
import { decodeAxes, type WholeReading } from './decode-frame.ts';
import type { Cut } from './frame-cutter.ts';

type Expected = Omit<ShapeSample, 'frame' | 'also'>;

/** Why a sample is not understood as it says, or null where it is. */
export function trySample(sample: ShapeSample, shape: LineShape): string | null {
  const body = onlyFrame(sample.frame, shape);
  if (body === null) return 'framing does not cut it into exactly one whole frame';
  const decoded = decodeAxes(body, shape);
  if (decoded.kind === 'invalid') return decoded.why;
  const { frame: _, also = [], ...first } = sample;
  const expected: Expected[] = [first, ...also];
  if (decoded.readings.length !== expected.length) {
    return `it holds ${decoded.readings.length} readings, the sample says ${expected.length}`;
  }
  for (const [index, reading] of decoded.readings.entries()) {
    const why = differs(reading, expected[index]!);
    if (why !== null) return expected.length === 1 ? why : `axis ${index + 1}: ${why}`;
  }
  return null;
}

/** What stands between start and line end, where these bytes are one whole frame and nothing more. */
export function onlyFrame(text: string, shape: LineShape): string | null {
  const cutter = makeShapeCutter(shape, 'between frames');
  const cuts: Cut[] = cutter.feed(Buffer.from(text, 'latin1'));
  const [cut] = cuts;
  if (cuts.length !== 1 || cut?.kind !== 'frame' || cutter.heldBytes > 0) return null;
  return cut.body;
}

function differs(read: WholeReading, expected: Expected): string | null {
  for (const part of ['value', 'unit', 'status', 'channel', 'decimals'] as const) {
    if (part === 'decimals' && expected.decimals === undefined) continue;
    if (read[part] !== expected[part]) {
      return `${part} is read as ${JSON.stringify(read[part])}, the sample says ${JSON.stringify(expected[part])}`;
    }
  }
  return null;
}
