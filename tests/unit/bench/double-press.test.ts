import { describe, expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

const take = { kind: 'take station' } as const;

/** Two presses: the second so long after the first, on such a reading, with a readout that moved so far. */
function pressedTwice(afterMs: number, secondMm: number, movedMm: number | null) {
  const at = new AtTheBench({ rises: 'away', way: 'stations', entry: 'device' });
  at.connect('indicator');
  if (movedMm !== null) at.connect('readout');
  const show = (readingMm: number, countMm: number) => {
    at.reads('indicator', readingMm);
    if (movedMm !== null) at.reads('readout', countMm);
  };
  at.must({ kind: 'begin sweep' });
  show(0.01, 0);
  at.must(take);
  at.nowMs += afterMs - 10;
  show(secondMm, movedMm ?? 0);
  const code = at.refused(take);
  return { at, code };
}

describe('one press takes one station', () => {
  test.each([
    ['a switch that bounces', 40, 0.01, null, 'pressed-twice'],
    ['a doubled press on another reading', 120, 0.012, null, 'pressed-twice'],
    ['a quick press on the same reading', 500, 0.01, null, 'same-reading-soon'],
    ['a quick press on another reading', 500, 0.02, null, null],
    ['the same reading later', 900, 0.01, null, null],
    ['the same place by the readout, however late', 5000, 0.01, 0.1, 'same-place-twice'],
    ['another place by the readout, however soon', 200, 0.01, 31.75, null],
  ] as const)('%s', (_case, afterMs, secondMm, movedMm, expected) => {
    const { at, code } = pressedTwice(afterMs, secondMm, movedMm);
    expect(code).toBe(expected);
    expect(at.stations()).toHaveLength(expected === null ? 2 : 1);
  });

  test('what was dropped is counted', () => {
    const { at } = pressedTwice(40, 0.01, null);
    const answer = at.say(take);
    expect(answer.ok ? '' : answer.fault.what).toContain('2 dropped');
  });
});
