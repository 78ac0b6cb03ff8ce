import { BENCH_LINES_HELP, readBenchLine } from '@taptrue/simulators/bench-line.ts';
import { describe, expect, test } from 'vitest';

describe('a typed line that is understood', () => {
  test.each([
    [
      'tap right away medium',
      { kind: 'act', act: { act: 'strike', xMm: 147, way: 'away', blow: 'medium' } },
    ],
    [
      'TAP left toward light',
      { kind: 'act', act: { act: 'strike', xMm: -20, way: 'toward', blow: 'light' } },
    ],
    [
      'tap 4in away firm',
      { kind: 'act', act: { act: 'strike', xMm: 101.6, way: 'away', blow: 'firm' } },
    ],
    ['  left ', { kind: 'traverse', to: 'left' }],
    ['park 127mm', { kind: 'park', xMm: 127 }],
    ['park 5 in', { kind: 'park', xMm: 127 }],
    ['saddle -0.1mm', { kind: 'act', act: { act: 'saddle', towardColumnMm: -0.1 } }],
    ['stage snug', { kind: 'stage', stage: 'snug' }],
    ['', { kind: 'help' }],
    ['quit', { kind: 'quit' }],
  ] as const)('"%s"', (text, line) => {
    expect(readBenchLine(text)).toEqual({ ok: true, line });
  });
});

describe('a typed line that is not says what is wrong with it', () => {
  test.each([
    ['tap right up firm', 'got "up"'],
    ['tap right away brutal', 'got "brutal"'],
    ['tap right', 'away or toward'],
    ['tap 4 away light', '"4" has no unit'],
    ['park 127', 'no unit'],
    ['saddle 3in', '1 mm at most'],
    ['stage loose', 'got "loose"'],
    ['dance', '"dance" is not understood'],
  ])('"%s": %s', (text, why) => {
    const read = readBenchLine(text);
    if (read.ok) throw new Error('understood');
    expect(read.why).toContain(why);
    expect(read.why).toContain('Type help');
  });
});

test('every line that help names is understood', () => {
  const examples = BENCH_LINES_HELP.split('\n')
    .map((row) => row.slice(2, 26).trim())
    .filter(Boolean)
    .flatMap((names) => names.split(', '));
  expect(examples.length).toBeGreaterThan(12);
  for (const example of examples) expect(readBenchLine(example)).toMatchObject({ ok: true });
});
