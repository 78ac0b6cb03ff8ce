import { arcsecFromRadians } from '@taptrue/protocol';
import { welchSatterthwaite } from '@taptrue/server/measure/verdict/uncertainty.ts';
import { describe, expect, it } from 'vitest';
import { codesOf, resultOf, seededNoise, stations, sweepOf } from './sweep-of.ts';

const seconds = (slope: number) => arcsecFromRadians(slope);
const partsOf = (result: ReturnType<typeof resultOf>) =>
  Object.fromEntries(result.uncertaintyParts.map((part) => [part.name, part.arcsec]));
const level = stations(2, () => 0);

describe('two stations', () => {
  it.each([
    ['resolution', { resolutionMm: 0.002 }, 0.002 / (Math.sqrt(6) * 127)],
    ['permissible error', { permissibleErrorMm: 0.004 }, 0.004 / (Math.sqrt(3) * 127)],
    ['repeatability', { repeatabilityMm: 0.001 }, (Math.SQRT2 * 0.001) / 127],
  ])('are as uncertain as the %s makes them', (name, known, slope) => {
    const result = resultOf(sweepOf(level, known));
    expect(partsOf(result)).toEqual({ [name]: expect.closeTo(seconds(slope), 9) });
    expect(result.angleStandardUncertaintyArcsec).toBeCloseTo(seconds(slope), 9);
    expect(result.outOfTrueArcsecExpanded).toBeCloseTo(1.959964 * seconds(slope), 5);
    expect(result.degreesOfFreedom).toBeNull();
    expect(result.slopeStandardError).toBeNull();
  });

  it('join their parts in quadrature', () => {
    const result = resultOf(
      sweepOf(level, { resolutionMm: 0.002, permissibleErrorMm: 0.004, repeatabilityMm: 0.001 }),
    );
    const parts = Object.values(partsOf(result));
    expect(parts).toHaveLength(3);
    expect(result.angleStandardUncertaintyArcsec).toBeCloseTo(Math.hypot(...parts), 12);
  });

  it('have an uncertainty that is not known, not zero, where nothing is known', () => {
    const result = resultOf(
      sweepOf(level, { limit: { kind: 'end to end', mm: 0.02, overMm: null } }),
    );
    expect(result.angleStandardUncertaintyArcsec).toBeNull();
    expect(result.outOfTrueArcsecExpanded).toBeNull();
    expect(result.verdict).toBe('too close to call');
    expect(result.cautions.map((caution) => caution.code)).toEqual(
      expect.arrayContaining(['two-stations', 'uncertainty-not-known']),
    );
  });

  it('read through an inclined stylus count that much less of what is known', () => {
    const straight = resultOf(sweepOf(level, { permissibleErrorMm: 0.004 }));
    const inclined = resultOf(sweepOf(level, { permissibleErrorMm: 0.004, stylusFactor: 0.5 }));
    expect(inclined.angleStandardUncertaintyArcsec).toBeCloseTo(
      straight.angleStandardUncertaintyArcsec! / 2,
      9,
    );
  });
});

describe('more stations', () => {
  const { normal } = seededNoise(5);
  const noisy = stations(10, (x) => 0.0001 * x + 0.002 * normal());

  it('have the rounding in their scatter where it is larger than half a count', () => {
    expect(partsOf(resultOf(sweepOf(noisy, { resolutionMm: 0.001 })))).not.toHaveProperty(
      'resolution',
    );
    expect(partsOf(resultOf(sweepOf(noisy, { resolutionMm: 0.02 })))).toHaveProperty('resolution');
  });

  it('have as many degrees of freedom as all parts together leave', () => {
    const plain = resultOf(sweepOf(noisy));
    expect(plain.degreesOfFreedom).toBeCloseTo(8, 9);
    const widened = resultOf(sweepOf(noisy, { permissibleErrorMm: 0.01 }));
    expect(widened.degreesOfFreedom!).toBeGreaterThan(8);
  });

  it('that lie exactly on a line are said to show no scatter, unless the resolution is known', () => {
    const exact = stations(5, (x) => 0.0001 * x);
    expect(codesOf(sweepOf(exact))).toContain('no-scatter');
    expect(codesOf(sweepOf(exact, { resolutionMm: 0.001 }))).not.toContain('no-scatter');
  });

  // d atan(b) / db = 1 / (1 + b²): at a slope of 1 an uncertain slope is half as uncertain an angle.
  it('are half as uncertain in angle as in slope, on a line as steep as 45 degrees', () => {
    const steep = resultOf(sweepOf(noisy.map((p) => ({ ...p, readingMm: p.xMm + p.readingMm }))));
    const ratio = steep.angleStandardUncertaintyArcsec! / seconds(steep.slopeStandardError!);
    expect(ratio).toBeCloseTo(0.5, 3);
  });

  it('lie about the true slope as often as the expanded uncertainty says, 95 %', () => {
    let covered = 0;
    for (let sweep = 0; sweep < 1000; sweep += 1) {
      const result = resultOf(sweepOf(stations(8, (x) => 0.0001 * x + 0.002 * normal())));
      const errorArcsec = Math.abs(result.outOfTrueArcsec - arcsecFromRadians(Math.atan(0.0001)));
      if (errorArcsec <= result.outOfTrueArcsecExpanded!) covered += 1;
    }
    expect(covered).toBeGreaterThan(930);
    expect(covered).toBeLessThan(975);
  });
});

describe('out and back', () => {
  const { normal } = seededNoise(6);
  const out = stations(6, (x) => 0.0002 * x + 0.001 * normal());
  const back = stations(9, (x) => 0.0003 * x + 0.001 * normal()).reverse();
  const both = resultOf(
    sweepOf([], {
      passes: [
        { pass: 'out', points: out },
        { pass: 'back', points: back },
      ],
    }),
  );
  const [one, two] = both.passes;

  it('is the mean of the two lines, with both listed', () => {
    expect(one!.slope).toBe(resultOf(sweepOf(out)).slope);
    expect(both.slope).toBe((one!.slope + two!.slope) / 2);
    expect(both.interceptMm).toBe((one!.interceptMm + two!.interceptMm) / 2);
    expect(both.points).toBe(15);
    expect(both.slopeStandardError).toBeCloseTo(
      Math.hypot(one!.slopeStandardError!, two!.slopeStandardError!) / 2,
      15,
    );
    expect(both.straightnessMinimumZoneMm).toBe(
      Math.max(one!.straightnessMinimumZoneMm, two!.straightnessMinimumZoneMm),
    );
  });

  it('counts the difference of the slopes as uniform about the truth', () => {
    const difference = Math.abs(one!.slope - two!.slope) / (2 * Math.sqrt(3));
    expect(partsOf(both)['difference between directions']).toBeCloseTo(seconds(difference), 5);
  });
});

// JCGM 100:2008, H.1: nu effective 16.7 from the unrounded parts 25 (18), 9.7 (25.6), 2.9 (50),
// 16.599 (2) nm and uc² = 1002 nm²; with uc rounded to 32 it would come out as 17.5.
describe('effective degrees of freedom', () => {
  it('are those of the end gauge in the GUM, H.1', () => {
    const parts = [
      [25, 18],
      [9.7, 25.6],
      [2.88679, 50],
      [16.599, 2],
    ] as const;
    expect(Math.floor(welchSatterthwaite(Math.sqrt(1002), parts)!)).toBe(16);
  });

  it('are large where no part has few, and those of the fewest where all parts are nothing', () => {
    expect(
      welchSatterthwaite(5, [
        [3, null],
        [4, null],
      ]),
    ).toBeNull();
    expect(
      welchSatterthwaite(0, [
        [0, 7],
        [0, 3],
      ]),
    ).toBe(3);
  });
});
