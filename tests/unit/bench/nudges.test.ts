import { judgeXNudge, judgeYNudge } from '@taptrue/server/bench/nudges.ts';
import { describe, expect, test } from 'vitest';

/** The usual jog: 0.005 in. */
const JOG_MM = 0.127;

describe('the Y nudge, the surface moved toward the column', () => {
  test.each([
    ['shown as much', 1, 'away', 'reads true travel'],
    ['shown as much the other way', -1, 'toward', 'reads true travel'],
    ['25.4 times', 25.4, 'away', 'sends millimetres that are taken as inches'],
    ['a 25.4th', 1 / 25.4, 'away', 'sends inches that are taken as millimetres'],
    ['twice', -2, 'toward', 'twice the travel'],
    ['half', 0.5, 'away', 'half the travel'],
    // Stylus at 30 degrees to the surface: it shows 1 / cos 30 of the travel (true = reading x cos).
    ['by a stylus at 30 degrees', 1 / Math.cos(Math.PI / 6), 'away', 'shows 115 % of the travel'],
  ])('%s: %d times shown rises %s, and it says "%s"', (_case, times, rises, words) => {
    const judged = judgeYNudge(0.2, 0.2 + times * JOG_MM, JOG_MM, 'in');
    if (!judged.ok) throw new Error(judged.fault.what);
    expect(judged.nudge.rises).toBe(rises);
    expect(judged.nudge.factor).toBeCloseTo(1 / Math.abs(times), 9);
    expect(judged.nudge.finding).toContain(words);
    expect(judged.nudge.finding).toContain(
      rises === 'away' ? 'goes away from you' : 'comes toward you',
    );
  });

  test('a move the other way, toward the operator, gives the same sense', () => {
    for (const times of [1, -1]) {
      const forth = judgeYNudge(0, times * JOG_MM, JOG_MM, 'in');
      const back = judgeYNudge(0, -times * JOG_MM, -JOG_MM, 'in');
      expect(back).toEqual(forth);
    }
  });

  test.each([
    ['did not move at all', 0],
    ['moved by a hundredth', 0.01],
    ['moved by a tenth less a little', 0.099],
  ])('a needle that %s was not touching', (_case, times) => {
    const judged = judgeYNudge(0, times * JOG_MM, JOG_MM, 'in');
    expect(judged).toMatchObject({ ok: false, fault: { code: 'nudge-not-seen' } });
    if (!judged.ok) expect(judged.fault.got).toContain('moved 0.0050 in');
  });

  test.each([0, Number.NaN, Number.POSITIVE_INFINITY])('a move of %d is no move', (movedMm) => {
    expect(judgeYNudge(0, 1, movedMm, 'mm')).toMatchObject({
      ok: false,
      fault: { code: 'nudge-no-move' },
    });
  });
});

describe('the X nudge, the table moved right, so that the stylus stands nearer the left end', () => {
  test.each([
    [100, 95, 1, 'rises as the stylus goes right'],
    [100, 105, -1, 'falls as the stylus goes right'],
    [0, -0.2, 1, 'rises'],
  ])('from %d to %d the count goes %d', (before, after, counts, words) => {
    const judged = judgeXNudge(before, after, 'in');
    expect(judged).toMatchObject({ ok: true, counts });
    if (judged.ok) expect(judged.finding).toContain(words);
  });

  test.each([0, 0.05, -0.099])('a change of %d mm is a jitter of the last digit', (changeMm) => {
    expect(judgeXNudge(100, 100 + changeMm, 'mm')).toMatchObject({
      ok: false,
      fault: { code: 'nudge-not-seen' },
    });
  });
});

test('where Y is swept the finding speaks of left and right', () => {
  expect(judgeYNudge(0, 0.1, 0.1, 'mm', 'y')).toMatchObject({
    nudge: {
      rises: 'away',
      finding: expect.stringContaining('rises as the surface goes to your left'),
    },
  });
});
