import { measureLag, type TimedSample } from '@taptrue/server/measure/pairing/measure-lag.ts';
import { PairByTime } from '@taptrue/server/measure/pairing/pair-by-time.ts';
import { solveNormal } from '@taptrue/server/measure/pairing/solve-normal.ts';
import { readIndicator } from '@taptrue/simulators/indicator.ts';
import { Dice } from '@taptrue/simulators/random.ts';
import { describe, expect, it } from 'vitest';

interface Traverse {
  slope: number;
  /** Of the indicator's reading behind the readout's position, ms. */
  lagMs: number;
  /** Of the indicator's mechanism, mm. */
  playMm: number;
  speedsMmPerS: readonly number[];
  noiseMm?: number;
  seed?: number;
}

/** Readout 20 a second, indicator 10 a second, out and back over 120 mm at each speed, as they would be paired. */
function traverses({
  slope,
  lagMs,
  playMm,
  speedsMmPerS,
  noiseMm = 0.0005,
  seed = 11,
}: Traverse): TimedSample[][] {
  const dice = new Dice(seed);
  const build = {
    rises: 'away' as const,
    resolutionMm: 0.001,
    rangeMm: 5,
    lagMm: playMm,
    noiseMm,
    driftMmPerMinute: 0,
    stylusFactor: 1,
  };
  let state = { zeroMm: 0, heldMm: null as number | null };
  const legs: TimedSample[][] = [];
  let clockMs = 0;
  for (const speed of speedsMmPerS) {
    for (const direction of [1, -1] as const) {
      const lasts = 120_000 / speed;
      const xAt = (ms: number) => {
        const part = Math.min(Math.max(ms, 0), lasts) / lasts;
        return direction === 1 ? 120 * part : 120 * (1 - part);
      };
      const leg: TimedSample[] = [];
      const pairs = new PairByTime((sample) => leg.push(sample));
      for (let ms = 0; ms <= lasts; ms += 50) {
        pairs.position(xAt(ms), clockMs + ms);
        if (ms % 100 !== 0) continue;
        const shown = readIndicator(build, state, slope * xAt(ms - lagMs), clockMs + ms, dice);
        state = shown.state;
        pairs.reading(shown.shownMm!, clockMs + ms);
      }
      legs.push(leg);
      clockMs += lasts + 1000;
    }
  }
  return legs;
}

const SPEEDS = [4, 16] as const;

describe('lag and play by the out-and-back method', () => {
  it.each([
    [0, 0],
    [80, 0],
    [250, 0.004],
    [80, 0.02],
    [-60, 0.004],
    [0, 0.02],
  ])('finds a lag of %i ms beside a play of %f mm', (lagMs, playMm) => {
    const outcome = measureLag(traverses({ slope: 0.01, lagMs, playMm, speedsMmPerS: SPEEDS }));
    if (!outcome.ok) throw new Error(outcome.fault.what);
    expect(Math.abs(outcome.lag.lagMs - lagMs)).toBeLessThan(
      4 * outcome.lag.lagStandardErrorMs + 3,
    );
    expect(outcome.lag.lagStandardErrorMs).toBeLessThan(6);
    expect(outcome.lag.playMm).toBeCloseTo(playMm, 3);
    expect(outcome.lag.slowestMmPerS).toBeCloseTo(4, 1);
    expect(outcome.lag.fastestMmPerS).toBeCloseTo(16, 1);
  });

  it('is the same whichever way the edge slopes', () => {
    for (const slope of [0.01, -0.01]) {
      const outcome = measureLag(
        traverses({ slope, lagMs: 120, playMm: 0.01, speedsMmPerS: SPEEDS }),
      );
      expect(outcome).toMatchObject({ ok: true });
      if (outcome.ok) {
        expect(outcome.lag.lagMs).toBeCloseTo(120, -1);
        expect(outcome.lag.playMm).toBeCloseTo(0.01, 3);
      }
    }
  });

  it('states an uncertainty that holds: nine of ten true lags within two of it', () => {
    let within = 0;
    for (let seed = 1; seed <= 40; seed += 1) {
      const outcome = measureLag(
        traverses({
          slope: 0.005,
          lagMs: 100,
          playMm: 0,
          speedsMmPerS: SPEEDS,
          noiseMm: 0.002,
          seed,
        }),
      );
      if (outcome.ok && Math.abs(outcome.lag.lagMs - 100) <= 2 * outcome.lag.lagStandardErrorMs)
        within += 1;
    }
    expect(within).toBeGreaterThanOrEqual(36);
  });

  it.each([
    ['one speed', { speedsMmPerS: [8, 9] }, 'lag-needs-two-speeds'],
    ['an edge that is true', { slope: 0.00002 }, 'lag-needs-slope'],
  ])('says so where there is %s', (_what, change, code) => {
    const made = traverses({
      slope: 0.01,
      lagMs: 80,
      playMm: 0.004,
      speedsMmPerS: SPEEDS,
      ...change,
    });
    expect(measureLag(made)).toMatchObject({ ok: false, fault: { code } });
  });

  it('says so where one direction is missing, or nothing moved', () => {
    const [out] = traverses({ slope: 0.01, lagMs: 80, playMm: 0, speedsMmPerS: SPEEDS });
    expect(measureLag([out!])).toMatchObject({ fault: { code: 'lag-needs-both-ways' } });
    const still = Array.from({ length: 200 }, (_, index) => ({
      xMm: 5,
      readingMm: 0,
      atMs: index * 50,
    }));
    expect(measureLag([still])).toMatchObject({ fault: { code: 'lag-needs-both-ways' } });
    expect(measureLag([])).toMatchObject({ fault: { code: 'lag-needs-both-ways' } });
  });

  it('corrects: readings paired by the measured lag leave no loop that grows with speed', () => {
    const legs = traverses({ slope: 0.01, lagMs: 150, playMm: 0, speedsMmPerS: SPEEDS });
    const first = measureLag(legs);
    if (!first.ok) throw new Error(first.fault.what);
    const again = legs.map((leg) => {
      const corrected: TimedSample[] = [];
      const pairs = new PairByTime((sample) => corrected.push(sample), {
        readingLagMs: first.lag.lagMs,
      });
      for (const { xMm, readingMm, atMs } of leg) {
        pairs.position(xMm, atMs);
        pairs.reading(readingMm, atMs);
      }
      return corrected;
    });
    const second = measureLag(again);
    expect(second.ok && Math.abs(second.lag.lagMs)).toBeLessThan(5);
  });
});

describe('least squares on several columns', () => {
  it('agrees with exact coefficients', () => {
    const rows = Array.from({ length: 30 }, (_, index) => [1, index, Math.sin(index), index % 3]);
    const ys = rows.map(
      ([one, two, three, four]) => 2 * one! - 0.5 * two! + 7 * three! + 1e-4 * four!,
    );
    const fit = solveNormal(rows, ys)!;
    [2, -0.5, 7, 1e-4].forEach((wanted, index) => {
      expect(fit.coefficients[index]).toBeCloseTo(wanted, 9);
    });
  });

  it.each<[string, number[][]]>([
    [
      'two columns are the same',
      [
        [1, 2, 2],
        [1, 3, 3],
        [1, 5, 5],
        [1, 6, 6],
      ],
    ],
    [
      'a column is empty',
      [
        [1, 0],
        [1, 0],
        [1, 0],
      ],
    ],
    [
      'there are too few rows',
      [
        [1, 2],
        [1, 3],
      ],
    ],
    ['there are none', []],
  ])('gives none where %s', (_what, rows) => {
    expect(
      solveNormal(
        rows,
        rows.map((_, index) => index),
      ),
    ).toBeNull();
  });
});
