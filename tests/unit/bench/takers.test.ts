import { FeedTaker } from '@taptrue/server/bench/feed-samples.ts';
import { ReadoutTaker } from '@taptrue/server/bench/readout-samples.ts';
import { StationTaker } from '@taptrue/server/bench/station-samples.ts';
import { describe, expect, test } from 'vitest';

describe('stations', () => {
  test('are asked for in their order, and with a back pass again from the far end', () => {
    const taker = new StationTaker([0, 60, 127], true);
    const asked: unknown[] = [];
    for (let reading = 1; reading <= 6; reading += 1) {
      asked.push([taker.next?.xMm, taker.pass]);
      expect(taker.isComplete).toBe(false);
      taker.take(reading);
    }
    expect(asked).toEqual([
      [0, 'out'],
      [60, 'out'],
      [127, 'out'],
      [127, 'back'],
      [60, 'back'],
      [0, 'back'],
    ]);
    expect(taker.isComplete).toBe(true);
    expect([taker.next, taker.take(7), taker.samples]).toEqual([null, null, 6]);
    expect(
      taker.passes().map(({ pass, points }) => [pass, points.map((p) => p.readingMm)]),
    ).toEqual([
      ['out', [1, 2, 3]],
      ['back', [4, 5, 6]],
    ]);
  });

  test('taken say where and in which pass, and nothing that the record has no room for', () => {
    const taker = new StationTaker([0, 127], true);
    expect(taker.take(0.1)).toEqual({ xMm: 0, pass: 'out' });
  });

  test('struck out are asked for again, across the turn too; with none taken nothing is struck', () => {
    const taker = new StationTaker([0, 127], true);
    expect(taker.takeBack()).toBe(false);
    for (const reading of [1, 2, 3]) taker.take(reading);
    expect(taker.takeBack()).toBe(true);
    expect(taker.next).toEqual({ index: 2, xMm: 127, pass: 'back' });
    taker.takeBack();
    expect(taker.next).toEqual({ index: 1, xMm: 127, pass: 'out' });
    expect(taker.passes()).toHaveLength(1);
  });
});

describe('a readout', () => {
  /** The table runs from `from` to `to` in a second; the readout sends every 50 ms, the indicator every 20. */
  function run(taker: ReadoutTaker, fromMm: number, toMm: number, startMs: number) {
    for (let ms = 0; ms <= 1000; ms += 10) {
      const xMm = fromMm + ((toMm - fromMm) * ms) / 1000;
      if (ms % 20 === 0) taker.indicator(xMm / 1000, startMs + ms);
      if (ms % 50 === 0) taker.readout(xMm, startMs + ms);
    }
  }

  test('places readings between its own, and turning round begins the pass back', () => {
    const taker = new ReadoutTaker();
    run(taker, 0, 127, 0);
    expect([taker.pass, taker.isComplete]).toEqual(['out', false]);
    run(taker, 127, 0, 1000);
    expect([taker.pass, taker.isComplete]).toEqual(['back', false]);
    const passes = taker.passes();
    expect(passes.map((pass) => pass.pass)).toEqual(['out', 'back']);
    for (const { points } of passes) {
      for (const point of points) expect(point.readingMm).toBeCloseTo(point.xMm / 1000, 9);
    }
    // Two readings of the second, the first and the last, share their times with other samples at most.
    expect(taker.samples + taker.pairsRefused).toBeGreaterThanOrEqual(100);
    run(taker, 0, 30, 2000);
    expect(taker.isComplete).toBe(true);
  });

  test('that falls silent leaves readings without a place, counted', () => {
    const taker = new ReadoutTaker();
    taker.readout(0, 0);
    for (let ms = 0; ms < 1000; ms += 20) taker.indicator(0, ms);
    taker.tick(5000);
    expect([taker.samples, taker.pairsRefused]).toEqual([0, 50]);
  });
});

describe('constant feed', () => {
  const feed = { startsAt: 'left', distanceMm: 120, mmPerMin: null } as const;

  /** Readings every 100 ms from `fromMs` to `toMs`, each the time since `fromMs` in seconds. */
  function stream(taker: FeedTaker, fromMs: number, toMs: number) {
    for (let ms = fromMs; ms <= toMs; ms += 100) taker.indicator((ms - fromMs) / 1000, ms);
  }

  test('between two marks runs through the distance: places follow from time when the last mark is set', () => {
    const taker = new FeedTaker(feed, false);
    expect(taker.start(1000)).toBe(true);
    stream(taker, 1000, 13_000);
    expect([taker.isRunning, taker.passes()]).toEqual([true, []]);
    expect(taker.stop(13_000)).toBe(true);
    expect([taker.isRunning, taker.isComplete]).toEqual([false, true]);
    const [pass] = taker.passes();
    // 120 mm in 12 s: 10 mm a second.
    for (const point of pass!.points) expect(point.xMm).toBeCloseTo(point.readingMm * 10, 6);
    expect(pass!.points.at(-1)!.xMm).toBeCloseTo(120, 6);
  });

  test('from the right end x falls', () => {
    const taker = new FeedTaker({ ...feed, startsAt: 'right' }, false);
    taker.start(0);
    stream(taker, 0, 12_000);
    taker.stop(12_000);
    for (const { xMm, readingMm } of taker.passes()[0]!.points) {
      expect(xMm).toBeCloseTo(120 - readingMm * 10, 6);
    }
  });

  test('with a rate ends itself where the distance is run through', () => {
    // 600 mm/min is 10 mm/s: 12 s for 120 mm.
    const taker = new FeedTaker({ ...feed, mmPerMin: 600 }, false);
    taker.start(0);
    stream(taker, 0, 11_900);
    taker.tick(11_999);
    expect(taker.isComplete).toBe(false);
    expect(taker.passes()[0]!.points.length).toBeGreaterThan(50);
    taker.tick(12_000);
    expect(taker.isComplete).toBe(true);
  });

  test('goes back over the same positions', () => {
    const taker = new FeedTaker(feed, true);
    taker.start(0);
    stream(taker, 0, 12_000);
    taker.stop(12_000);
    expect([taker.isComplete, taker.start(20_000)]).toEqual([false, true]);
    stream(taker, 20_000, 32_000);
    taker.stop(32_000);
    expect(taker.isComplete).toBe(true);
    for (const { xMm, readingMm } of taker.passes()[1]!.points) {
      expect(xMm).toBeCloseTo(120 - readingMm * 10, 6);
    }
    expect(taker.start(40_000)).toBe(false);
  });

  test.each([
    ['a second first mark', (taker: FeedTaker) => taker.start(0) && taker.start(10)],
    ['a last mark without a first', (taker: FeedTaker) => taker.stop(10)],
    ['a last mark at the time of the first', (taker: FeedTaker) => taker.start(5) && taker.stop(5)],
  ])('%s is refused', (_case, act) => {
    expect(act(new FeedTaker(feed, false))).toBe(false);
  });

  test('readings before the first mark and between the passes have no place and are not taken', () => {
    const taker = new FeedTaker(feed, true);
    stream(taker, 0, 1000);
    taker.start(1000);
    stream(taker, 1000, 2000);
    taker.stop(2000);
    stream(taker, 2100, 3000);
    expect(taker.samples).toBe(11);
  });

  test('that was forgotten stops at its last reading after a quarter of an hour', () => {
    const taker = new FeedTaker(feed, false);
    taker.start(0);
    stream(taker, 0, 12_000);
    taker.tick(900_000);
    expect(taker.isComplete).toBe(false);
    taker.tick(900_001);
    expect(taker.isComplete).toBe(true);
    expect(taker.passes()[0]!.points.at(-1)!.xMm).toBeCloseTo(120, 6);
  });
});
