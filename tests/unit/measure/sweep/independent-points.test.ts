import { independentPoints } from '@taptrue/server/measure/sweep/independent-points.ts';
import { describe, expect, it } from 'vitest';
import { seededNoise } from '../verdict/sweep-of.ts';

describe('the number of independent points', () => {
  it('stays the number of points where neighbours have nothing in common, or differ', () => {
    expect(independentPoints([1, -1, 1, -1, 1, -1])).toBe(6);
    expect(independentPoints([0, 0, 0, 0])).toBe(4);
    expect(independentPoints([1, -1])).toBe(2);
  });

  it('is plain n in about 19 of 20 sets of independent noise', () => {
    const { normal } = seededNoise(11);
    let plain = 0;
    for (let set = 0; set < 1000; set += 1) {
      const residuals = Array.from({ length: 20 }, normal);
      if (independentPoints(residuals) === 20) plain += 1;
    }
    expect(plain).toBeGreaterThan(930);
  });

  it('falls to about n (1 - r) / (1 + r) where each residual keeps r of the one before', () => {
    const { normal } = seededNoise(12);
    const r = 0.8;
    const counts = Array.from({ length: 200 }, () => {
      let last = 0;
      return independentPoints(
        Array.from({ length: 128 }, () => {
          last = r * last + Math.sqrt(1 - r * r) * normal();
          return last;
        }),
      );
    });
    const mean = counts.reduce((sum, count) => sum + count, 0) / counts.length;
    expect(mean).toBeGreaterThan((0.75 * (128 * 0.2)) / 1.8);
    expect(mean).toBeLessThan((1.6 * (128 * 0.2)) / 1.8);
  });

  it('leaves one degree of freedom at least', () => {
    expect(independentPoints(Array.from({ length: 50 }, () => 1))).toBe(3);
  });
});
