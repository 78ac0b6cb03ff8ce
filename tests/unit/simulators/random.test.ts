import { Dice } from '@taptrue/simulators/random.ts';
import { expect, test } from 'vitest';

test('the same seed gives the same draws, another seed others', () => {
  const draws = (seed: number) => {
    const dice = new Dice(seed);
    return Array.from({ length: 20 }, () => dice.uniform());
  };
  expect(draws(7)).toEqual(draws(7));
  expect(draws(7)).not.toEqual(draws(8));
});

test('uniform draws fill [0, 1) evenly: every tenth holds a tenth, within five standard errors', () => {
  const dice = new Dice(1);
  const counts = new Array<number>(10).fill(0);
  const total = 50_000;
  for (let draw = 0; draw < total; draw += 1) {
    const value = dice.uniform();
    expect(value >= 0 && value < 1).toBe(true);
    counts[Math.floor(value * 10)]! += 1;
  }
  // Standard error of a count: sqrt(n p (1 - p)) = 67.
  for (const count of counts) expect(Math.abs(count - total / 10)).toBeLessThan(5 * 67.1);
});

test('normal draws have the asked mean and deviation, and 95 % of them lie within 1.96 deviations', () => {
  const dice = new Dice(2);
  const total = 40_000;
  const draws = Array.from({ length: total }, () => dice.normal(3, 2));
  const mean = draws.reduce((sum, draw) => sum + draw, 0) / total;
  const variance = draws.reduce((sum, draw) => sum + (draw - mean) ** 2, 0) / (total - 1);
  const within = draws.filter((draw) => Math.abs(draw - 3) < 1.96 * 2).length / total;
  expect(Math.abs(mean - 3)).toBeLessThan(0.05);
  expect(Math.abs(Math.sqrt(variance) - 2)).toBeLessThan(0.04);
  expect(Math.abs(within - 0.95)).toBeLessThan(0.006);
});
