import type { SweepInput, SweepPoint } from '@taptrue/server/measure/verdict/sweep-input.ts';
import { describe, expect, it } from 'vitest';
import { codesOf, resultOf, seededNoise, stations, sweepOf } from './sweep-of.ts';

const NOISE_MM = 0.001;
const COUNT_MM = 0.00254;
const slopeMm = (x: number) => 0.0002 * x;

/** Codes a sweep of this shape gives, over many seeds. */
function codesOver(
  seeds: number,
  shape: (points: (readingMm: (x: number) => number) => SweepPoint[], seed: number) => SweepInput,
  count: number,
  counted = false,
): Map<string, number> {
  const times = new Map<string, number>();
  for (let seed = 1; seed <= seeds; seed += 1) {
    const { normal } = seededNoise(seed * 7919);
    const take = (readingMm: (x: number) => number) =>
      stations(count, (x) => {
        const value = readingMm(x) + NOISE_MM * normal();
        return counted ? Math.round(value / COUNT_MM) * COUNT_MM : value;
      });
    for (const code of codesOf(shape(take, seed))) times.set(code, (times.get(code) ?? 0) + 1);
  }
  return times;
}

const outAndBack = (out: SweepPoint[], back: SweepPoint[]) =>
  sweepOf([], {
    passes: [
      { pass: 'out', points: out },
      { pass: 'back', points: back.reverse() },
    ],
  });

describe('each fault is named by its own name', () => {
  const SEEDS = 60;
  const faults: [
    string,
    string,
    (take: (f: (x: number) => number) => SweepPoint[]) => SweepInput,
  ][] = [
    [
      'a bowed bar',
      'bow',
      (take) => sweepOf(take((x) => slopeMm(x) + 0.02 * (1 - ((x - 63.5) / 63.5) ** 2))),
    ],
    [
      'a bar re-seated half way',
      'step',
      (take) => sweepOf(take((x) => slopeMm(x) + (x > 70 ? 0.02 : 0))),
    ],
    [
      'a chip under the stylus',
      'lone-bump',
      (take) => sweepOf(take((x) => slopeMm(x) + (Math.abs(x - 63.5) < 4 ? 0.03 : 0))),
    ],
    [
      'an indicator that lags',
      'gap-between-directions',
      (take) =>
        outAndBack(
          take(slopeMm),
          take((x) => slopeMm(x) + 0.008),
        ),
    ],
    [
      'a mount that creeps from start to end',
      'open-loop',
      (take) =>
        outAndBack(
          take((x) => slopeMm(x) + (0.01 * x) / 127),
          take((x) => slopeMm(x) + 0.02 - (0.01 * x) / 127),
        ),
    ],
    [
      'an indicator at its stop',
      'indicator-at-its-stop',
      (take) =>
        sweepOf(
          take((x) => 0.0008 * x).map((p) => ({ ...p, readingMm: Math.min(p.readingMm, 0.07) })),
        ),
    ],
  ];

  it.each(faults)('%s: %s, at 20 stations', (_name, code, shape) => {
    const times = codesOver(SEEDS, shape, 20);
    expect(times.get(code) ?? 0).toBeGreaterThan(0.95 * SEEDS);
    const shapes = ['bow', 'step', 'lone-bump', 'gap-between-directions', 'open-loop'];
    for (const other of shapes.filter(
      (name) => name !== code && code !== 'indicator-at-its-stop',
    )) {
      expect(times.get(other) ?? 0, `also ${other}`).toBeLessThan(0.1 * SEEDS);
    }
  });

  it('says where the chip and the step are', () => {
    const { normal } = seededNoise(5);
    const text = (shape: (x: number) => number) =>
      resultOf(sweepOf(stations(21, (x) => shape(x) + NOISE_MM * normal()))).cautions[0]!.text;
    expect(text((x) => (Math.abs(x - 63.5) < 1 ? 0.05 : 0))).toContain('at 63.500 mm');
    expect(text((x) => (x > 65 ? 0.05 : 0))).toContain('between 63.500 mm and 69.850 mm');
  });

  it('names outlying points with their positions and keeps them in the fit', () => {
    const { normal } = seededNoise(6);
    const points = stations(21, (x) => NOISE_MM * normal() + (x < 1 || x > 126 ? 0.05 : 0));
    const result = resultOf(sweepOf(points));
    const caution = result.cautions.find(({ code }) => code === 'outlying-points');
    expect(caution?.text).toContain('0.000 mm, 127.000 mm');
    expect(result.points).toBe(21);
  });
});

describe('what is said of how the readings were taken', () => {
  const { normal } = seededNoise(9);
  const clean = stations(9, (x) => slopeMm(x) + NOISE_MM * normal());
  it.each<[string, SweepInput, string]>([
    ['two stations', sweepOf(clean.slice(0, 2)), 'two-stations'],
    ['three stations', sweepOf(clean.slice(0, 3)), 'three-stations'],
    ['an unknown sense', sweepOf(clean, { rises: null }), 'sense-not-known'],
    ['a slope beyond 3 degrees', sweepOf(stations(5, (x) => 0.06 * x)), 'steep-slope'],
    [
      'positions back and forth',
      sweepOf([clean[0]!, clean[3]!, clean[1]!, clean[4]!]),
      'positions-out-of-order',
    ],
    ['one position twice', sweepOf([clean[0]!, ...clean]), 'repeated-positions'],
    [
      'a reading at the end of the known range',
      sweepOf(clean, { rangeMm: { lowMm: clean[0]!.readingMm, highMm: 1 } }),
      'indicator-at-its-stop',
    ],
  ])('%s', (_name, input, code) => {
    expect(codesOf(input)).toContain(code);
  });

  it('is nothing for a plain good sweep, in either direction, nor for bins that share no order', () => {
    expect(codesOf(sweepOf(clean))).toEqual([]);
    expect(codesOf(sweepOf([...clean].reverse()))).toEqual([]);
    const mixed = [clean[2]!, clean[0]!, ...clean.slice(3)];
    expect(codesOf(sweepOf(mixed, { pointsAre: 'bin means' }))).toEqual([]);
  });

  it('is no stop where a level bar is read in coarse counts', () => {
    const coarse = [0, 0, 0, 0, 1, 0, 1, 1, 1].map((count, i) => ({
      xMm: i * 15,
      readingMm: count * 0.0127,
    }));
    expect(codesOf(sweepOf(coarse))).toEqual([]);
  });
});

/**
 * False alarms measured over 10,000 sweeps out and back a size: each of bow, step and bump 0.2 % of the
 * sweeps, outlying points 0.5 % at 10 stations and 0.1 % at 20, gap and open loop together 0.1 %, so
 * about 0.8 % of clean sweeps carry one. Here: fewer seeds, the sum of all.
 */
describe('a clean straight bar is left alone', () => {
  const shapes = [
    'bow',
    'step',
    'lone-bump',
    'outlying-points',
    'gap-between-directions',
    'open-loop',
    'indicator-at-its-stop',
  ];
  it.each([
    [4, false],
    [5, false],
    [7, false],
    [8, false],
    [10, false],
    [10, true],
    [20, false],
    [25, true],
    [64, false],
  ])('with %d stations, read in counts: %s', (count, counted) => {
    const seeds = count > 30 ? 200 : 500;
    const times = codesOver(
      seeds,
      (take) => outAndBack(take(slopeMm), take(slopeMm)),
      count,
      counted,
    );
    const alarms = shapes.reduce((sum, code) => sum + (times.get(code) ?? 0), 0);
    expect(alarms / seeds).toBeLessThan(0.025);
  });
});

describe('a fault too small to change the decision is not named', () => {
  const bowed = (heightMm: number) =>
    stations(41, (x) => slopeMm(x) + heightMm * (1 - ((x - 63.5) / 63.5) ** 2));
  const limitOf = (mm: number): Pick<SweepInput, 'limit'> => ({
    limit: { kind: 'end to end', mm, overMm: null },
  });

  it.each([
    ['a bow of 2 µm under a limit of 100 µm', 0.002, 0.1, false],
    ['a bow of 20 µm under a limit of 100 µm', 0.02, 0.1, true],
    ['a bow of 2 µm under a limit of 10 µm', 0.002, 0.01, true],
  ])('%s', (_what, heightMm, limitMm, isNamed) => {
    expect(codesOf(sweepOf(bowed(heightMm), limitOf(limitMm))).includes('bow')).toBe(isNamed);
  });

  it('names it where no limit says what matters', () => {
    expect(codesOf(sweepOf(bowed(0.002), { limit: null }))).toContain('bow');
  });

  it('measures a lag by the same limit', () => {
    const lag = (gapMm: number) => ({
      ...outAndBack(
        stations(41, slopeMm),
        stations(41, (x) => slopeMm(x) + gapMm),
      ),
      ...limitOf(0.1),
    });
    expect(codesOf(lag(0.002))).not.toContain('gap-between-directions');
    expect(codesOf(lag(0.02))).toContain('gap-between-directions');
  });
});
