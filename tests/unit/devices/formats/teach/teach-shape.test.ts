import type { LineShape, TeachQuestion } from '@taptrue/protocol';
import { checkShape } from '@taptrue/server/devices/formats/check-shape.ts';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { teachShape } from '@taptrue/server/devices/formats/teach/teach-shape.ts';
import { describe, expect, it } from 'vitest';
import { countUnderCrc, digitsUnderXor } from '../packed-shapes.ts';

const NOTHING_TOLD: TeachQuestion = {
  captured: '',
  fromPort: false,
  form: 'lines',
  frameBytes: null,
  recordLines: 1,
  line: 0,
  marks: null,
  meanings: [],
  wholeLines: [],
  number: { kind: 'digits', decimals: null, lowestFirst: false },
  unit: null,
  screenSaid: [],
  name: '',
  title: 'Being taught',
  trigger: 'streams',
  request: null,
  port: null,
};

const teach = (told: Partial<TeachQuestion>) => teachShape({ ...NOTHING_TOLD, ...told });
const samplesOf = (name: string) =>
  shapeNamed(name)!
    .samples.map((sample) => sample.frame)
    .join('');
const readsOf = (told: Partial<TeachQuestion>) => teach(told).lines.map(({ reads }) => reads);

describe('three lines without a mark', () => {
  it.each([
    [
      '+000.1234 , IN\r\n-000.0021 , IN\r\n+001.5000 , IN\r\n',
      ['0.1234 in', '−0.0021 in', '1.5000 in'],
    ],
    ['-0,0125 mm\n+1,30 mm\n4,0 mm\n', ['−0.0125 mm', '1.30 mm', '4.0 mm']],
    [
      '02A+000.5678\r01A-000.0013\r16D+0012.305\r',
      ['0.5678, channel 02A', '−0.0013, channel 01A', '12.305, channel 16D'],
    ],
    [
      '017, 0.0021, NRM, 02\n018, -0.0009, MAX, 02\n019, 1.2, OVR, 02\n',
      ['0.0021, channel 02', '−0.0009, channel 02, peak mode', 'no number, channel 02, over range'],
    ],
    [
      'X= +1.2340 INCH\r\nY= -31.350 MM\r\nZ= ****** MM\r\n',
      ['1.2340 in, channel X', '−31.350 mm, channel Y', 'no number, channel Z, error'],
    ],
    ['{"x":12.3}\n{"x":-0.5}\n{"x":7}\n', ['12.3, channel x', '−0.5, channel x', '7, channel x']],
    [
      'X=1.5 Y=2.5 MM\nX=1.6 Y=2.4 MM\nX=-1.7 Y=2.3 MM\n',
      [
        '1.5 mm, channel X; 2.5 mm, channel Y',
        '1.6 mm, channel X; 2.4 mm, channel Y',
        '−1.7 mm, channel X; 2.3 mm, channel Y',
      ],
    ],
  ])('%j are read as they were meant', (captured, reads) => {
    const answer = teach({ captured });
    expect(answer.lines.map((line) => line.reads)).toEqual(reads);
    expect(answer.needs).toEqual([]);
  });

  it('a time is passed over as a whole, for the next minute differs in other places', () => {
    const { shape } = teach({ captured: samplesOf('pipe-list') });
    const later = '2026-11-30T23:59:59.999Z|Xact|-4.5\n';
    const sample = {
      frame: later,
      value: -4.5,
      unit: null,
      status: 'ok',
      channel: 'Xact',
    } as const;
    expect(checkShape({ ...shape!, samples: [sample, sample, sample] }).ok).toBe(true);
  });

  it('a record over two lines is taught as one', () => {
    const captured = samplesOf('printed-axis');
    expect(readsOf({ captured, recordLines: 2 })).toEqual([
      '12.34 mm, channel X',
      '−0.0125 in, channel Y',
      '0.00 mm, channel X',
    ]);
  });
});

describe('what the marks leave open is asked for, never guessed', () => {
  it('a point that is not sent: what the screen showed tells it', () => {
    const captured = samplesOf('stx-implied-point');
    const asked = teach({ captured });
    expect(asked.shape).toBeNull();
    expect(asked.needs[0]).toMatch(/no point: type what the device’s screen showed/);
    const told = teach({ captured, screenSaid: ['12.345'] });
    expect(told.needs).toEqual([]);
    expect(told.lines.map(({ reads }) => reads)).toEqual(['12.345', '−0.021', '0.000']);
  });

  it('a line that reads other than its screen said fails, and says both', () => {
    const answer = teach({ captured: '1.234\n1.235\n1.236\n', screenSaid: ['', '12.35'] });
    expect(answer.shape).toBeNull();
    expect(answer.lines[1]!.why).toBe('the screen said 12.35, this reads 1.235');
    expect(answer.needs).toEqual(['1 of 3 lines is not understood yet.']);
  });

  it('a line that goes another way says at which character', () => {
    const answer = teach({ captured: '1.234 mm\n1.235 mm\nE47\n1.236 mm\n' });
    expect(answer.lines[2]).toMatchObject({ text: 'E47', at: 0, reads: '' });
    const told = teach({
      captured: '1.234 mm\n1.235 mm\nE47\n1.236 mm\n',
      wholeLines: [{ text: 'E47', means: 'error' }],
    });
    expect(told.needs).toEqual([]);
    expect(told.shape!.specials).toEqual([{ text: 'E47', status: 'error' }]);
  });

  it('words that are not known', () => {
    const captured = '1.5 RUN a\n1.6 STP a\n1.7 RUN a\n';
    const marks = [
      { from: 0, to: 3, means: 'number' as const },
      { from: 4, to: 7, means: 'status' as const },
      { from: 8, to: 9, means: 'unit' as const },
    ];
    const asked = teach({ captured, marks });
    expect(asked.texts).toEqual([
      { span: 'status', text: 'RUN', means: null },
      { span: 'status', text: 'STP', means: null },
      { span: 'unit', text: 'a', means: null },
    ]);
    const told = teach({
      captured,
      marks,
      meanings: [
        { span: 'status', text: 'RUN', means: 'ok' },
        { span: 'status', text: 'STP', means: 'hold' },
        { span: 'unit', text: 'a', means: 'mm' },
      ],
    });
    expect(told.lines.map(({ reads }) => reads)).toEqual(['1.5 mm', '1.6 mm, hold', '1.7 mm']);
  });

  it('fewer than three different lines, or none at all', () => {
    expect(teach({ captured: '1.5\n1.6\n' }).needs[0]).toMatch(/Three different lines/);
    expect(teach({ captured: '1.5' }).needs[0]).toMatch(/No line end/);
    expect(teach({ captured: '' }).needs[0]).toMatch(/No line end/);
  });
});

describe('codes by place', () => {
  it('a frame of digits only is taught by marks on its places', () => {
    const captured = shapeNamed('fixed-digit-frame')!
      .samples.slice(0, 3)
      .map(({ frame }) => frame)
      .join('');
    const answer = teach({
      captured,
      marks: [
        { from: 0, to: 1, means: 'unit' },
        { from: 1, to: 2, means: 'sign' },
        { from: 2, to: 3, means: 'point' },
        { from: 3, to: 11, means: 'number' },
      ],
      meanings: [
        { span: 'unit', text: '0', means: 'mm' },
        { span: 'unit', text: '1', means: 'in' },
        { span: 'sign', text: '0', means: 'plus' },
        { span: 'sign', text: '1', means: 'minus' },
      ],
    });
    expect(answer.lines.map(({ reads }) => reads)).toEqual(['−1.234 mm', '0.0021 in', '7 mm']);
    expect(answer.needs).toEqual([]);
    expect(answer.shape!.framing.start).toBe('\x02');
  });
});

describe('bytes without line ends', () => {
  const streamOf = (shape: LineShape) => shape.samples.map(({ frame }) => frame).join('');

  it('the length of a frame is found, and its check sum', () => {
    const answer = teach({
      captured: streamOf(countUnderCrc).repeat(3),
      form: 'bytes',
      unit: 'mm',
      number: { kind: 'count', decimals: 3, lowestFirst: true },
      marks: [
        { from: 0, to: 6, means: 'number' },
        { from: 6, to: 10, means: 'checksum' },
      ],
    });
    expect(answer.frameBytes).toBe(6);
    expect(answer.lines.map(({ reads }) => reads)).toEqual(['12.345 mm', '−0.021 mm', '0.000 mm']);
    expect(answer.shape!.fields[1]).toMatchObject({ kind: 'checksum', rule: 'crc-16/modbus' });
    expect(checkShape(answer.shape).ok).toBe(true);
  });

  it('half bytes low one first, last place first: what the screen showed tells them apart', () => {
    const answer = teach({
      captured: streamOf(digitsUnderXor).repeat(3),
      form: 'bytes',
      number: { kind: 'digits', decimals: null, lowestFirst: true },
      screenSaid: ['12.34'],
      marks: [
        { from: 0, to: 6, means: 'number' },
        {
          from: 6,
          to: 8,
          means: 'flags',
          bits: [
            { bit: 0, set: 'minus' },
            { bit: 2, set: 'mm' },
            { bit: 3, set: 'low battery' },
          ],
        },
        { from: 8, to: 10, means: 'checksum' },
      ],
    });
    expect(answer.lines.map(({ reads }) => reads)).toEqual([
      '12.34 mm',
      '−12.34 mm',
      '0.00 mm',
      '12.34 mm, low battery',
    ]);
    expect(answer.shape).toMatchObject({ packed: 'low nibble first' });
  });

  it('taken from the middle of a stream, the start byte is found', () => {
    const stream = streamOf(digitsUnderXor).repeat(4);
    const answer = teach({ captured: stream.slice(3), fromPort: true, form: 'bytes' });
    expect(answer.frameBytes).toBe(6);
    expect(answer.lines[0]!.text).toHaveLength(10);
  });
});

describe('what is taught is a shape like any other', () => {
  it('passes its own samples, which are the lines it was taught from', () => {
    const { shape } = teach({
      captured: samplesOf('channel-tagged'),
      title: '2 tags, then: a number',
    });
    expect(shape!.name).toBe('tags-then-a-number');
    expect(shape!.samples.map(({ frame }) => frame.trim())).toEqual([
      '02A+000.5678',
      '01A-000.0013',
      '16D+0012.305',
    ]);
    expect(checkShape(shape).ok).toBe(true);
  });

  it('of any bytes at all nothing is thrown', () => {
    for (const captured of [
      '\n\n\n',
      '\x00\xff\x80\n'.repeat(9),
      '((((\n[[[[\n****\n',
      '1\n2\n3\n',
      ' \n  \n   \n',
    ]) {
      for (const form of ['lines', 'bytes'] as const) {
        expect(teach({ captured, form }).needs).toBeInstanceOf(Array);
      }
    }
  });
});
