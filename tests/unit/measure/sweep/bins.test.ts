import {
  FIRST_STEP_MM,
  LONGEST_SPAN_MM,
  MOST_BINS,
  PositionBins,
} from '@taptrue/server/measure/sweep/bins.ts';
import { fitLine } from '@taptrue/server/measure/sweep/fit-line.ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

const filled = (samples: readonly (readonly [number, number])[], options = {}) => {
  const bins = new PositionBins(options);
  for (const [x, reading] of samples) bins.add(x, reading);
  return bins;
};

// Whole micrometres: what a readout can show.
const position = fc.integer({ min: -400_000, max: 400_000 }).map((um) => um / 1000);
const reading = fc.double({ min: -1, max: 1, noNaN: true });

describe('bins of a streamed sweep', () => {
  it('hold the mean position and reading of what fell into them', () => {
    const bins = filled([
      [0.02, 1],
      [0.04, 3],
      [0.3, 10],
    ]);
    expect(bins.points()).toEqual([
      { xMm: 0.03, readingMm: 2, samples: 2 },
      { xMm: 0.3, readingMm: 10, samples: 1 },
    ]);
  });

  it('stay within their number, however far and long the sweep, and double their step for it', () => {
    const bins = new PositionBins();
    for (let sample = 0; sample < 200_000; sample += 1) bins.add(sample * 0.001, 0.5);
    expect(bins.points().length).toBeLessThanOrEqual(MOST_BINS);
    expect(bins.points().length).toBeGreaterThan(MOST_BINS / 2 - 1);
    expect(bins.stepMm).toBe(FIRST_STEP_MM * 8);
    expect(bins.samples).toBe(200_000);
  });

  it('lose no sample and no reading in merging (random positions in random order)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(position, reading), { minLength: 1, maxLength: 300 }),
        (samples) => {
          const points = filled(samples).points();
          const count = points.reduce((sum, point) => sum + point.samples, 0);
          const total = points.reduce((sum, point) => sum + point.samples * point.readingMm, 0);
          expect(points.length).toBeLessThanOrEqual(MOST_BINS);
          expect(count).toBe(samples.length);
          expect(total).toBeCloseTo(
            samples.reduce((sum, [, value]) => sum + value, 0),
            9,
          );
          for (let i = 1; i < points.length; i += 1) {
            expect(points[i]!.xMm).toBeGreaterThan(points[i - 1]!.xMm);
          }
        },
      ),
      { numRuns: 200 },
    );
  });

  it('do not depend on the order the samples came in', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(position, reading), { minLength: 2, maxLength: 200 }),
        (samples) => {
          const forward = filled(samples).points();
          const backward = filled([...samples].reverse()).points();
          expect(backward.length).toBe(forward.length);
          backward.forEach((bin, index) => {
            expect(bin.samples).toBe(forward[index]!.samples);
            expect(bin.xMm).toBeCloseTo(forward[index]!.xMm, 9);
            expect(bin.readingMm).toBeCloseTo(forward[index]!.readingMm, 9);
          });
        },
      ),
      { numRuns: 200 },
    );
  });

  it('give a parked stylus no more weight than one that passes', () => {
    const passing: [number, number][] = Array.from({ length: 1271 }, (_, i) => [
      i * 0.1,
      i * 0.1 * 0.0002,
    ]);
    const parked: [number, number][] = [
      ...passing,
      ...Array.from({ length: 60_000 }, (_, i): [number, number] => [
        126.9,
        0.0254 + (i % 2) * 0.004,
      ]),
    ];
    const slope = (samples: [number, number][]) => {
      const points = filled(samples).points();
      const outcome = fitLine(
        points.map((p) => p.xMm),
        points.map((p) => p.readingMm),
      );
      if (!outcome.ok) throw new Error(outcome.noLine.what);
      return outcome.line.slope;
    };
    expect(slope(passing)).toBeCloseTo(0.0002, 12);
    // One bin of 127 reads 0.002 high: 0.002 x 63.5 / Sxx.
    expect(Math.abs(slope(parked) - 0.0002)).toBeLessThan(1e-6);
  });

  it('lie on a grid of their own origin where one is asked for', () => {
    const bins = filled(
      [
        [10, 1],
        [11, 2],
        [12, 3],
        [13, 4],
      ],
      { firstStepMm: 2, originMm: 10 },
    );
    expect(bins.points().map((point) => point.readingMm)).toEqual([1.5, 3.5]);
  });

  it.each([
    ['no number for a position', Number.NaN, 0],
    ['no number for a reading', 1, Number.NaN],
    ['an endless reading', 1, Number.POSITIVE_INFINITY],
    ['a position farther away than any bar is long', 2 * LONGEST_SPAN_MM, 0],
  ])('refuse and count %s', (_name, x, value) => {
    const bins = filled([
      [0, 0],
      [1, 0],
    ]);
    expect(bins.add(x, value)).toBe(false);
    expect(bins.refused).toBe(1);
    expect(bins.samples).toBe(2);
    expect(bins.points().length).toBe(2);
  });

  it('begin with the first sample that is a number', () => {
    const bins = filled([
      [Number.NaN, 1],
      [5, 1],
      [6, 2],
    ]);
    expect(bins.samples).toBe(2);
    expect(bins.refused).toBe(1);
  });
});
