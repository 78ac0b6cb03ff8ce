import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resultOf, sweepOf } from './sweep-of.ts';

const X = Array.from({ length: 64 }, (_, at) => at * 2);
const COUNT_MM = 0.001;
const rounded = (mm: number) => Math.round(mm / COUNT_MM) * COUNT_MM;

/** A slope of 0.1 mm over the bar on a dial of 0.001 mm, the needle held over part of it. */
function held(from: number, to: number, slope = 0.0008) {
  const points = X.map((x, at) => {
    const stood = at >= from && at < to ? X[from]! : x;
    return { xMm: x, readingMm: rounded(slope * stood) };
  });
  return resultOf(
    sweepOf(points, {
      resolutionMm: COUNT_MM,
      limit: { kind: 'end to end', mm: 0.2, overMm: null },
      pivot: { xMm: 0, acrossMm: null },
      malletMm: 127,
      pointsAre: 'bin means',
    }),
  );
}

describe('a needle that stood still where it should have moved', () => {
  it.each([
    ['in the middle', 25, 35],
    ['over the last 40 %', 38, 64],
    ['over the first fifth', 0, 13],
  ])('%s: no tap, and nothing is true', (_where, from, to) => {
    const result = held(from, to);
    const codes = result.cautions.map(({ code }) => code);
    expect(codes.some((code) => ['needle-held', 'indicator-at-its-stop'].includes(code))).toBe(
      true,
    );
    expect(result.tap).toBeNull();
    expect(result.tapToReadingMm).toBeNull();
    expect(result.verdict).not.toBe('true');
  });

  it('a needle that follows is believed, and told to be tapped by', () => {
    const result = held(0, 0);
    expect(result.cautions.map(({ code }) => code)).not.toContain('needle-held');
    expect(result.tap).not.toBeNull();
  });

  it('an honest dial of any count, slope and scatter is never called held', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.002, max: 0.002, noNaN: true }),
        fc.constantFrom(0.0005, 0.001, 0.002, 0.01, 0.0127),
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 64, maxLength: 64 }),
        fc.double({ min: 0, max: 0.003, noNaN: true }),
        (slope, countMm, noise, scatterMm) => {
          const points = X.map((x, at) => {
            const mm = slope * x + noise[at]! * scatterMm;
            return { xMm: x, readingMm: Math.round(mm / countMm) * countMm };
          });
          const result = resultOf(sweepOf(points, { resolutionMm: countMm }));
          expect(result.cautions.map(({ code }) => code)).not.toContain('needle-held');
        },
      ),
      { seed: 20, numRuns: 3000 },
    );
  });
});
