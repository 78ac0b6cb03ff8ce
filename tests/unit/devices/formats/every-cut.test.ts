import type { LineShape } from '@taptrue/protocol';
import { makeShapeCutter } from '@taptrue/server/devices/formats/cut-frames.ts';
import { decodeAxes, type WholeReading } from '@taptrue/server/devices/formats/decode-frame.ts';
import type { BeginsWhere } from '@taptrue/server/devices/formats/frame-cutter.ts';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';

/** Every axis of every whole frame, chunk after chunk. */
function axesOf(shape: LineShape, chunks: string[], begins: BeginsWhere): WholeReading[][] {
  const cutter = makeShapeCutter(shape, begins);
  return chunks
    .flatMap((chunk) => cutter.feed(Buffer.from(chunk, 'latin1')))
    .flatMap((cut) => (cut.kind === 'frame' ? [decodeAxes(cut.body, shape)] : []))
    .flatMap((decoded) => (decoded.kind === 'readings' ? [[...decoded.readings]] : []));
}

const asRead = (shape: LineShape) =>
  shape.samples.map(({ frame, also = [], ...first }) => ({
    frame,
    said: [first, ...also].map(
      (one) => expect.objectContaining({ kind: 'reading', ...one }) as unknown,
    ),
  }));

describe.each(SHAPES.map((shape) => [shape.name, shape] as const))('%s', (_name, shape) => {
  const samples = asRead(shape);

  it('has at least three samples', () => {
    expect(samples.length).toBeGreaterThanOrEqual(3);
  });

  it.each(samples)('reads $frame', ({ frame, said }) => {
    expect(axesOf(shape, [frame], 'between frames')).toEqual([said]);
  });

  it('gives a reading once and whole wherever its bytes are cut in two', () => {
    for (const { frame, said } of samples) {
      for (let at = 0; at <= frame.length; at += 1) {
        const chunks = [frame.slice(0, at), frame.slice(at)];
        expect(axesOf(shape, chunks, 'between frames'), `cut at ${at}`).toEqual([said]);
      }
    }
  });

  it('gives two readings of every joined pair, wherever the pair is cut and byte by byte', () => {
    for (const first of samples) {
      for (const second of samples) {
        const both = first.frame + second.frame;
        const said = [first.said, second.said];
        expect(axesOf(shape, [...both], 'between frames')).toEqual(said);
        for (let at = 0; at <= both.length; at += 1) {
          const chunks = [both.slice(0, at), both.slice(at)];
          expect(axesOf(shape, chunks, 'between frames'), `cut at ${at}`).toEqual(said);
        }
      }
    }
  });

  it('never gives a wrong number, wherever in a frame the line was opened', () => {
    for (const first of samples) {
      for (const second of samples) {
        for (let at = 1; at < first.frame.length; at += 1) {
          const chunks = [first.frame.slice(at) + second.frame];
          expect(axesOf(shape, chunks, 'anywhere'), `opened at ${at}`).toEqual([second.said]);
        }
      }
    }
  });

  it('loses the first frame after opening only where nothing proves it whole', () => {
    for (const { frame, said } of samples) {
      const { start, terminator } = shape.framing;
      const proven = start !== undefined || terminator === 'no line end';
      expect(axesOf(shape, [frame], 'anywhere')).toEqual(proven ? [said] : []);
    }
  });

  it('never gives a number of a frame that was cut short, followed by a whole one', () => {
    for (const { frame, said } of samples) {
      const cutter = makeShapeCutter(shape, 'between frames');
      for (let at = 1; at < frame.length - 2; at += 1) {
        const cut = cutter.feed(Buffer.from(frame.slice(0, at), 'latin1'));
        expect(cut, `cut short at ${at}`).toEqual([]);
        cutter.lineFellSilent();
        const texts = cutter
          .feed(Buffer.from(frame + frame, 'latin1'))
          .flatMap((piece) => (piece.kind === 'frame' ? [decodeAxes(piece.body, shape)] : []));
        for (const decoded of texts) expect(decoded).toEqual({ kind: 'readings', readings: said });
        expect(texts.length).toBeGreaterThanOrEqual(1);
      }
    }
  });

  it('loses at most one good frame after garbage of any length', () => {
    const [{ frame, said }] = samples as [(typeof samples)[number]];
    for (const garbage of [
      '\x00',
      '\xff'.repeat(7),
      'A'.repeat(300),
      '\x80\r'.repeat(9),
      '=,'.repeat(99),
    ]) {
      const readings = axesOf(shape, [garbage, frame, frame, frame], 'between frames');
      expect(readings.length, JSON.stringify(garbage)).toBeGreaterThanOrEqual(2);
      for (const reading of readings) expect(reading).toEqual(said);
    }
  });
});
