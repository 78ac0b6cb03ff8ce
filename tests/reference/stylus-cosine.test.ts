import { radiansFromDegrees } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import { resultOf, stations, sweepOf } from '../unit/measure/verdict/sweep-of.ts';

// Cosine factors of lever indicators as makers' catalogues print them, edition of 2019 (makers withheld);
// older editions cut 0.86 and 0.76 off instead of rounding. 15 and 45 degrees are computed only.
const FACTORS = [
  [10, 0.98],
  [15, 0.97],
  [20, 0.94],
  [30, 0.87],
  [40, 0.77],
  [45, 0.71],
  [50, 0.64],
  [60, 0.5],
] as const;

describe('a lever stylus inclined to the surface', () => {
  it.each(FACTORS)(
    'at %d degrees shows a slope that is too large by the printed factor',
    (degrees, factor) => {
      const readings = stations(6, (x) => 0.001 * x);
      const asShown = resultOf(sweepOf(readings));
      const corrected = resultOf(
        sweepOf(readings, { stylusFactor: Math.cos(radiansFromDegrees(degrees)) }),
      );
      expect(corrected.slope / asShown.slope).toBeCloseTo(factor, 2);
    },
  );

  // Worked figures of the same catalogues: 0.200 mm read, and 0.05 mm at 30 degrees.
  it.each([
    [10, 0.2, 0.196],
    [20, 0.2, 0.188],
    [30, 0.2, 0.174],
    [30, 0.05, 0.0435],
  ])(
    'at %d degrees makes %d mm shown into %d mm, as the printed factor does',
    (degrees, shownMm, trueMm) => {
      const result = resultOf(
        sweepOf(
          stations(5, (x) => (shownMm * x) / 127),
          {
            stylusFactor: Math.cos(radiansFromDegrees(degrees)),
          },
        ),
      );
      expect(Math.abs(result.endToEndMm - trueMm)).toBeLessThan(0.005 * shownMm);
    },
  );

  // Common practice, no source: zero stays zero, only the amount of the tap is overstated.
  it('leaves the reading to stop at where it was, and shrinks the amount', () => {
    const ask = { pivot: { xMm: 20, acrossMm: null }, malletMm: 150 };
    const readings = stations(5, (x) => 0.03 - 0.0004 * x);
    const asShown = resultOf(sweepOf(readings, ask));
    const corrected = resultOf(sweepOf(readings, { ...ask, stylusFactor: 0.5 }));
    expect(corrected.tapToReadingMm).toBeCloseTo(asShown.tapToReadingMm!, 12);
    expect(corrected.tap!.amountMm).toBeCloseTo(asShown.tap!.amountMm / 2, 12);
  });
});
