import { isTurned, shiftedMm } from '@taptrue/server/measure/verdict/turn-between.ts';
import { describe, expect, test } from 'vitest';
import { resultOf, seededNoise, stations, sweepOf } from './sweep-of.ts';

const PAIRS = 4000;

/** Nine stations with white noise of 1.3 µm, the line lifted by that many mm. */
function sweeps(seed: number) {
  const { normal } = seededNoise(seed);
  return (liftMm: number) =>
    resultOf(sweepOf(stations(9, (xMm) => liftMm + 0.0003 * xMm + 0.0013 * normal())));
}

describe('two sweeps with nothing touched between', () => {
  test('are said to be zeroed or turned less than once in a thousand', () => {
    const sweep = sweeps(31);
    let shifted = 0;
    let turned = 0;
    for (let pair = 0; pair < PAIRS; pair += 1) {
      const [before, after] = [sweep(0), sweep(0)];
      if (shiftedMm(before, after) !== null) shifted += 1;
      if (isTurned(before, after)) turned += 1;
    }
    console.info(`of ${PAIRS} pairs with nothing touched: shifted ${shifted}, turned ${turned}`);
    expect(shifted).toBeLessThanOrEqual(PAIRS / 1000);
  });

  test('a zero that moved is noticed where it is large against the two lines', () => {
    const sweep = sweeps(32);
    let seen = 0;
    for (let pair = 0; pair < PAIRS; pair += 1)
      // The middle is known to 1.3 / 3 µm each, 0.61 µm for the difference: 0.0055 mm is nine of these.
      if (shiftedMm(sweep(0), sweep(0.0055)) !== null) seen += 1;
    console.info(`of ${PAIRS} zeros moved by nine uncertainties: noticed ${seen}`);
    expect(seen).toBeGreaterThan(0.99 * PAIRS);
  });
});
