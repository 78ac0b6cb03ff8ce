import type { LineShape } from '@taptrue/protocol';
import { makeShapeCutter } from '@taptrue/server/devices/formats/cut-frames.ts';
import { decodeAxes } from '@taptrue/server/devices/formats/decode-frame.ts';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';
import { countUnderCrc, digitsUnderXor } from './packed-shapes.ts';
import { seededRandom } from './seeded-bytes.ts';

/** Over all shapes together; each chunk has 1 to 6 bytes. */
const CHUNKS = 1_000_000;
const ALL = [...SHAPES, digitsUnderXor, countUnderCrc];
/** NAK, or half bytes that are no digits: not in any frame, so that one it falls into can be none. */
const neverSent = (shape: LineShape) => (shape.packed === undefined ? '\x15' : '\xee');

interface Stream {
  text: string;
  /** What must be read of it, in its order. */
  certain: string[];
}

interface Source {
  shape: LineShape;
  /** What each sample is read as. */
  said: string[];
}

/** Frames from the samples, glued, some spoiled by a byte that is never sent, opened in the middle of one. */
function makeStream({ shape, said }: Source, random: () => number): Stream {
  const pick = () => Math.floor(random() * shape.samples.length);
  const opened = shape.samples[pick()]!;
  let text = opened.frame.slice(1 + Math.floor(random() * (opened.frame.length - 1)));
  const certain: string[] = [];
  for (let frames = 20; frames > 0; frames -= 1) {
    const index = pick();
    const sample = shape.samples[index]!;
    if (random() < 0.15) {
      const at = Math.floor(random() * sample.frame.length);
      text += sample.frame.slice(0, at) + neverSent(shape) + sample.frame.slice(at + 1);
    } else {
      text += sample.frame;
      certain.push(said[index]!);
    }
  }
  return { text, certain };
}

function readText(frame: string, shape: LineShape): string {
  return readAll(shape, [frame], 'between frames').join();
}

function readAll(
  shape: LineShape,
  chunks: string[],
  begins: 'anywhere' | 'between frames',
): string[] {
  const cutter = makeShapeCutter(shape, begins);
  return chunks
    .flatMap((chunk) => cutter.feed(Buffer.from(chunk, 'latin1')))
    .flatMap((cut) => (cut.kind === 'frame' ? [decodeAxes(cut.body, shape)] : []))
    .flatMap((decoded) => (decoded.kind === 'readings' ? [JSON.stringify(decoded.readings)] : []));
}

function inChunks(text: string, random: () => number): string[] {
  const chunks: string[] = [];
  for (let at = 0; at < text.length; ) {
    const length = 1 + Math.floor(random() * 6);
    chunks.push(text.slice(at, at + length));
    at += length;
  }
  return chunks;
}

/** Good frames that one spoiled one may cost besides itself: its end glued to the next, or finding step again. */
function mayCost({ framing }: LineShape): number {
  return framing.terminator === 'no line end' ? 4 : framing.record === undefined ? 1 : 2;
}

describe.each(ALL.map((shape) => [shape.name, shape] as const))('%s', (name, shape) => {
  it('gives every whole frame once and nothing that was not sent, however the bytes are cut, glued and spoiled', () => {
    const random = seededRandom(
      [...name].reduce((sum, letter) => sum * 31 + letter.charCodeAt(0), 7),
    );
    const said = shape.samples.map(({ frame }) => readText(frame, shape));
    const allowed = new Set(said);
    let left = CHUNKS / ALL.length;
    while (left > 0) {
      const { text, certain } = makeStream({ shape, said }, random);
      const chunks = inChunks(text, random);
      left -= chunks.length;
      const read = readAll(shape, chunks, 'anywhere');
      const wrong = read.find((one) => !allowed.has(one));
      if (wrong !== undefined) expect(wrong, JSON.stringify(text)).toBe('not read');
      const spoiled = 20 - certain.length + 1;
      const fewest = certain.length - spoiled * mayCost(shape);
      if (read.length < fewest || read.length > 21) {
        expect(read.length, JSON.stringify(text)).toBe(certain.length);
      }
    }
  });
});
