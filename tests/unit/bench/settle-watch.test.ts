import { SettleWatch, type Step } from '@taptrue/server/bench/settle-watch.ts';
import { describe, expect, test } from 'vitest';
import { seededNoise } from '../measure/verdict/sweep-of.ts';

const DIGIT_MM = 0.00127;

/** Pushes a needle's readings at a rate and gives the steps seen. */
function stepsOf(
  needleMm: (seconds: number) => number,
  options: { seconds: number; perSecond?: number; digitMm?: number },
): Step[] {
  const { seconds, perSecond = 50, digitMm = DIGIT_MM } = options;
  const watch = new SettleWatch(digitMm);
  const steps: Step[] = [];
  for (let index = 0; index < seconds * perSecond; index += 1) {
    const atS = index / perSecond;
    const shown = Math.round(needleMm(atS) / digitMm) * digitMm;
    const step = watch.push(shown, atS * 1000);
    if (step) steps.push(step);
  }
  return steps;
}

describe('a needle', () => {
  test.each([3, 10, 50, 100, 500, 1000])(
    'that jumps and rests elsewhere is one step, at %d readings a second',
    (perSecond) => {
      const steps = stepsOf((s) => (s < 2 ? 0 : 0.05), { seconds: 6, perSecond });
      expect(steps).toHaveLength(1);
      expect(steps[0]!.beforeMm).toBeCloseTo(0, 2);
      expect(steps[0]!.afterMm).toBeCloseTo(0.05, 2);
    },
  );

  test('that rings after a blow is one step, to where it comes to rest', () => {
    const steps = stepsOf(
      (s) => (s < 2 ? 0 : 0.05 + 0.3 * Math.exp(-(s - 2) * 6) * Math.cos((s - 2) * 60)),
      { seconds: 6 },
    );
    expect(steps).toHaveLength(1);
    expect(steps[0]!.afterMm).toBeCloseTo(0.05, 2);
  });

  test('that rings and comes back to where it was is no step', () => {
    const needle = (s: number) =>
      s < 2 ? 0.1 : 0.1 + 0.3 * Math.exp(-(s - 2) * 6) * Math.cos((s - 2) * 60);
    expect(stepsOf(needle, { seconds: 6 })).toEqual([]);
  });

  test('struck five times is five steps, each from where the last one left it', () => {
    const steps = stepsOf((s) => -0.02 * Math.floor(Math.min(s, 10.1) / 2), { seconds: 14 });
    expect(steps.map((step) => step.afterMm.toFixed(2))).toEqual([
      '-0.02',
      '-0.04',
      '-0.06',
      '-0.08',
      '-0.10',
    ]);
    for (const [index, step] of steps.slice(1).entries()) {
      expect(step.beforeMm).toBeCloseTo(steps[index]!.afterMm, 3);
    }
  });

  test('that drifts with the warmth, 0.0005 in in ten minutes, is no step', () => {
    expect(stepsOf((s) => (0.0127 * s) / 600, { seconds: 600, perSecond: 20 })).toEqual([]);
  });

  test('that trembles by its noise is no step, over 200 seeds; a tap of twenty times that is one', () => {
    const noiseMm = 0.001;
    let falseSteps = 0;
    let missed = 0;
    for (let seed = 1; seed <= 200; seed += 1) {
      const { normal } = seededNoise(seed);
      falseSteps += stepsOf(() => noiseMm * normal(), { seconds: 20, digitMm: 0.0001 }).length;
      const tapped = stepsOf((s) => (s < 3 ? 0 : 0.02) + noiseMm * normal(), {
        seconds: 6,
        digitMm: 0.0001,
      });
      if (tapped.length !== 1) missed += 1;
    }
    expect(falseSteps).toBeLessThanOrEqual(2);
    expect(missed).toBeLessThanOrEqual(2);
  });

  test('that flickers between two counts is no step', () => {
    const { uniform } = seededNoise(5);
    expect(stepsOf(() => (uniform() < 0.5 ? 0 : DIGIT_MM), { seconds: 60 })).toEqual([]);
  });

  test('has no rest level before it came to rest', () => {
    const watch = new SettleWatch(DIGIT_MM);
    for (let ms = 0; ms < 1000; ms += 20) watch.push(ms, ms);
    expect(watch.restMm).toBeNull();
  });
});
