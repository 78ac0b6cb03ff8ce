import {
  LONGEST_BRACKET_MS,
  LONGEST_LAG_MS,
  MOST_WAITING,
  PairByTime,
  type Sample,
} from '@taptrue/server/measure/pairing/pair-by-time.ts';
import fc from 'fast-check';
import { expect, test } from 'vitest';

function pairing() {
  const samples: Sample[] = [];
  const pairs = new PairByTime((sample) => samples.push(sample));
  return { samples, pairs };
}

test('a reading gets the position interpolated at its time, once the position after it is known', () => {
  const { samples, pairs } = pairing();
  pairs.position(10, 1000);
  pairs.reading(0.5, 1025);
  expect(samples).toEqual([]);
  pairs.position(20, 1100);
  expect(samples).toEqual([{ xMm: 12.5, readingMm: 0.5, atMs: 1025 }]);
  expect(pairs.refused).toBe(0);
});

test.each([
  ['at the position before', 1000, 10],
  ['a quarter of the way', 1025, 12.5],
  ['at the position after', 1100, 20],
])('a reading %s lies there', (_where, atMs, xMm) => {
  const { samples, pairs } = pairing();
  pairs.position(10, 1000);
  pairs.reading(0, atMs);
  pairs.position(20, 1100);
  expect(samples.map((sample) => sample.xMm)).toEqual([xMm]);
});

test('a reading before the first position gets none', () => {
  const { samples, pairs } = pairing();
  pairs.reading(0, 900);
  pairs.position(10, 1000);
  pairs.position(20, 1100);
  expect(samples).toEqual([]);
  expect(pairs.refused).toBe(1);
});

test.each([
  [LONGEST_BRACKET_MS, 1, 0],
  [LONGEST_BRACKET_MS + 1, 0, 1],
])(
  'between positions %d ms apart %d readings are taken and %d refused',
  (apartMs, taken, refused) => {
    const { samples, pairs } = pairing();
    pairs.position(10, 0);
    pairs.reading(0, 100);
    pairs.position(20, apartMs);
    expect(samples).toHaveLength(taken);
    expect(pairs.refused).toBe(refused);
  },
);

test('a reading later than the newest position waits for the next one', () => {
  const { samples, pairs } = pairing();
  pairs.position(0, 0);
  pairs.reading(1, 150);
  pairs.position(10, 100);
  expect(samples).toEqual([]);
  pairs.position(20, 200);
  expect(samples).toEqual([{ xMm: 15, readingMm: 1, atMs: 150 }]);
});

test('positions and readings that came in one gulp, with one time, give a place and no division by nothing', () => {
  const { samples, pairs } = pairing();
  pairs.position(0, 100);
  pairs.reading(1, 200);
  pairs.reading(2, 200);
  pairs.position(5, 200);
  pairs.position(6, 200);
  pairs.reading(3, 200);
  pairs.position(7, 200);
  expect(samples.map((sample) => [sample.readingMm, sample.xMm])).toEqual([
    [1, 5],
    [2, 5],
    [3, 7],
  ]);
});

test('readings that no position follows are given up and counted', () => {
  const { samples, pairs } = pairing();
  pairs.position(0, 0);
  pairs.reading(1, 10);
  pairs.reading(2, 400);
  pairs.expire(10 + LONGEST_BRACKET_MS);
  expect(pairs.refused).toBe(0);
  pairs.expire(10 + LONGEST_BRACKET_MS + 1);
  expect(pairs.refused).toBe(1);
  pairs.position(10, 500);
  expect(samples.map((sample) => sample.readingMm)).toEqual([2]);
});

test('with a dead readout the readings that wait are bounded, the oldest given up and counted', () => {
  const { samples, pairs } = pairing();
  pairs.position(0, 0);
  for (let index = 0; index < MOST_WAITING + 10; index += 1) pairs.reading(index, 100);
  expect(pairs.refused).toBe(10);
  pairs.position(10, 200);
  expect(samples).toHaveLength(MOST_WAITING);
  expect(samples[0]!.readingMm).toBe(10);
});

test('every reading is taken or counted, in order, on the line between its neighbours, whatever the clocks do', () => {
  const event = fc.record({
    isReading: fc.boolean(),
    afterMs: fc.integer({ min: 0, max: 400 }),
  });
  fc.assert(
    fc.property(fc.array(event, { maxLength: 200 }), (events) => {
      const { samples, pairs } = pairing();
      let atMs = 0;
      let readings = 0;
      for (const { isReading, afterMs } of events) {
        atMs += afterMs;
        // The table runs at a tenth of a millimetre a millisecond: x follows from time alone.
        if (isReading) pairs.reading(readings++, atMs);
        else pairs.position(atMs / 10, atMs);
      }
      pairs.expire(atMs + 10_000);
      expect(samples.length + pairs.refused).toBe(readings);
      for (const sample of samples) expect(sample.xMm).toBeCloseTo(sample.atMs / 10, 9);
      const order = samples.map((sample) => sample.readingMm);
      expect(order).toEqual([...order].sort((a, b) => a - b));
    }),
  );
});

test.each([
  ['an indicator that is late by 130 ms', { readingLagMs: 130 }, 13],
  ['a readout that is late by 20 ms', { positionLagMs: 20 }, 28],
  ['both late alike', { readingLagMs: 500, positionLagMs: 500 }, 26],
])('%s gets the place it stood at when it was read', (_what, lags, xMm) => {
  const samples: Sample[] = [];
  const pairs = new PairByTime((sample) => samples.push(sample), lags);
  // 10 mm/s: x in mm is the time in tenths of a second.
  for (let atMs = 0; atMs <= 600; atMs += 50) {
    pairs.position(atMs / 10, atMs);
    if (atMs === 250) pairs.reading(0.5, 260);
  }
  expect(samples).toHaveLength(1);
  expect(samples[0]!.xMm).toBeCloseTo(xMm, 9);
  expect(pairs.refused).toBe(0);
});

test('positions looked back on are bounded, however fast they come', () => {
  const samples: Sample[] = [];
  const pairs = new PairByTime((sample) => samples.push(sample), { readingLagMs: LONGEST_LAG_MS });
  for (let atMs = 0; atMs < 20_000; atMs += 0.5) pairs.position(atMs, atMs);
  // 2,000 ms back are 4,000 positions; the last 2,048 are kept, so this one has no place any more.
  pairs.reading(0, 20_000);
  pairs.position(20_000, 20_000);
  expect(samples).toEqual([]);
  expect(pairs.refused).toBe(1);
});
