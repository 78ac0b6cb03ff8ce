import type { Framing } from '@taptrue/protocol';
import { makeFrameCutter } from '@taptrue/server/devices/formats/cut-frames.ts';
import type { BeginsWhere, Cut } from '@taptrue/server/devices/formats/frame-cutter.ts';
import { describe, expect, it } from 'vitest';

const LINES: Framing = { terminator: 'any newline', longestBytes: 16 };
const STX_LINES: Framing = { terminator: '\r\n', start: '\x02', longestBytes: 16 };
const FIXED: Framing = { terminator: '\r', start: '\x02', fixedBytes: 3, longestBytes: 8 };

function cut(framing: Framing, chunks: string[], begins: BeginsWhere = 'between frames'): Cut[] {
  const cutter = makeFrameCutter(framing, begins);
  return chunks.flatMap((chunk) => cutter.feed(Buffer.from(chunk, 'latin1')));
}

const bodies = (cuts: Cut[]) => cuts.filter((one) => one.kind === 'frame').map((one) => one.body);
const dropped = (cuts: Cut[]) => cuts.filter((one) => one.kind === 'dropped').map((one) => one.why);

describe('lines that end at any newline', () => {
  it.each([
    ['CR', ['1.0\r2.0\r']],
    ['LF', ['1.0\n2.0\n']],
    ['CR LF', ['1.0\r\n2.0\r\n']],
    ['CR LF split across two chunks', ['1.0\r', '\n2.0\r', '\n']],
    ['empty lines between', ['1.0\r\n\r\n\n2.0\r\r\n']],
  ])('%s: two frames', (_what, chunks) => {
    expect(bodies(cut(LINES, chunks))).toEqual(['1.0', '2.0']);
  });

  it('opened inside a CR LF loses nothing: the LF proves that a frame begins', () => {
    expect(bodies(cut(LINES, ['\n2.0\r\n'], 'anywhere'))).toEqual(['2.0']);
  });

  it('keep the eighth bit and every control byte as they came', () => {
    expect(bodies(cut(LINES, ['\x00\xb12\xff\r']))).toEqual(['\x00\xb12\xff']);
  });

  it('drop and count a line that is too long, and take the next', () => {
    const cuts = cut(LINES, ['5'.repeat(40), '5'.repeat(40), '\r\n2.0\r\n']);
    expect(bodies(cuts)).toEqual(['2.0']);
    expect(dropped(cuts)).toEqual(['too long']);
  });

  it('never give the tail at the end', () => {
    const cutter = makeFrameCutter(LINES, 'between frames');
    cutter.feed(Buffer.from('+0012.3'));
    expect(cutter.end()).toEqual([{ kind: 'dropped', why: 'partial', text: '+0012.3' }]);
    expect(cutter.heldBytes).toBe(0);
  });

  it('are whole from the first byte on once the line was seen idle', () => {
    const cutter = makeFrameCutter(LINES);
    cutter.lineWasIdle();
    expect(bodies(cutter.feed(Buffer.from('1.0\r')))).toEqual(['1.0']);
  });

  it('are not called whole by idleness after bytes came', () => {
    const cutter = makeFrameCutter(LINES);
    cutter.feed(Buffer.from('345'));
    cutter.lineWasIdle();
    expect(bodies(cutter.feed(Buffer.from(' mm\r')))).toEqual([]);
  });
});

describe('lines that end at exact characters', () => {
  const framing: Framing = { terminator: '\r\n', longestBytes: 16 };

  it('are not cut at one of them alone', () => {
    expect(bodies(cut(framing, ['1.0\r2.0\n3.0\r\n']))).toEqual(['1.0\r2.0\n3.0']);
  });

  it('see a terminator whose halves stand on both sides of what was given up', () => {
    const cuts = cut(framing, [`${'5'.repeat(16)}\r`, '\n2.0\r\n']);
    expect(bodies(cuts)).toEqual(['2.0']);
  });
});

describe('lines with a start character', () => {
  it('drop what stands before it, and count it', () => {
    const cuts = cut(STX_LINES, ['junk\x02+12\r\n\x02-7\r\n']);
    expect(bodies(cuts)).toEqual(['+12', '-7']);
    expect(dropped(cuts)).toEqual(['partial']);
  });

  it('begin at the last start where a frame was broken off', () => {
    expect(bodies(cut(STX_LINES, ['\x02+00\x02-7\r\n']))).toEqual(['-7']);
  });

  it('are no frame without it', () => {
    const cuts = cut(STX_LINES, ['+12\r\n']);
    expect(bodies(cuts)).toEqual([]);
    expect(dropped(cuts)).toEqual(['partial']);
  });
});

describe('frames of a fixed length', () => {
  it('may hold the terminator and the start between', () => {
    expect(bodies(cut(FIXED, ['\x02\r\x02\r\r\x02abc\r']))).toEqual(['\r\x02\r', 'abc']);
  });

  it('are looked for one byte on where the end is not at its place', () => {
    const cuts = cut(FIXED, ['\x02ab\x02abc\r']);
    expect(bodies(cuts)).toEqual(['abc']);
    expect(dropped(cuts)).toEqual(['partial']);
  });

  it('count a long run of stray bytes instead of keeping it', () => {
    const cuts = cut(FIXED, ['x'.repeat(20), '\x02abc\r']);
    expect(bodies(cuts)).toEqual(['abc']);
    expect(dropped(cuts)).toEqual(['too long', 'too long', 'partial']);
  });
});
