import { type Followed, PassFollower } from '@taptrue/server/measure/sweep/follow-passes.ts';
import { describe, expect, it } from 'vitest';

const from = (start: number, end: number, step: number): number[] =>
  Array.from(
    { length: Math.round(Math.abs(end - start) / step) + 1 },
    (_, i) => Math.round((start + Math.sign(end - start) * i * step) * 1e6) / 1e6,
  );

/** The reading tells the direction: +1 on the way out, -1 on the way back. */
function follow(legs: readonly (readonly [xs: number[], reading: number])[]) {
  const follower = new PassFollower();
  const said: Followed[] = [];
  for (const [xs, reading] of legs) for (const x of xs) said.push(follower.add(x, reading));
  return { follower, said };
}

describe('a readout followed out and back', () => {
  it.each([
    ['to the right and back', from(0, 127, 0.5), from(126.5, 0, 0.5)],
    ['to the left and back', from(127, 0, 0.5), from(0.5, 127, 0.5)],
    ['with large counts', from(50_000, 50_127, 0.5), from(50_126.5, 50_000, 0.5)],
  ])('%s makes two passes that share no sample', (_name, out, back) => {
    const { follower, said } = follow([
      [out, 1],
      [back, -1],
    ]);
    expect(said.filter((word) => word === 'turned')).toHaveLength(1);
    expect(follower.state).toBe('back');
    const [first, second] = follower.passes();
    expect(first!.pass).toBe('out');
    expect(second!.pass).toBe('back');
    // Not one reading of the way back is in the way out, although the turn is only seen later.
    expect(new Set(first!.points.map((point) => point.readingMm))).toEqual(new Set([1]));
    expect(new Set(second!.points.map((point) => point.readingMm))).toEqual(new Set([-1]));
    expect(Math.abs(first!.points[0]!.xMm - out[0]!)).toBeLessThan(1);
    expect(Math.abs(second!.points[0]!.xMm - back[0]!)).toBeLessThan(1);
    expect(Math.abs(second!.points.at(-1)!.xMm - out[0]!)).toBeLessThan(1);
    expect(follower.samples).toBe(out.length + back.length);
    expect(follower.start).toEqual({ xMm: out[0], readingMm: 1 });
  });

  it('ends at the second turn, and adds nothing after it', () => {
    const { follower, said } = follow([
      [from(0, 100, 1), 1],
      [from(99, 0, 1), -1],
      [from(1, 40, 1), 5],
    ]);
    expect(said).toContain('ended');
    expect(follower.state).toBe('ended');
    const before = follower.passes();
    expect(before.map((pass) => pass.pass)).toEqual(['out', 'back']);
    expect(before.flatMap((pass) => pass.points).every((point) => point.readingMm !== 5)).toBe(
      true,
    );
    expect(follower.add(50, 9)).toBe('ended');
    expect(follower.passes()).toEqual(before);
    expect(follower.samples).toBe(201);
    expect(follower.refused).toBe(41);
  });

  it('takes a hand that overshoots a little for the same pass, and keeps those readings', () => {
    const { follower, said } = follow([
      [from(0, 100, 1), 1],
      [from(99.5, 97, 0.5), 1],
      [from(97.5, 127, 0.5), 1],
    ]);
    expect(said.every((word) => word === 'taken')).toBe(true);
    expect(follower.passes()).toHaveLength(1);
    const counted = follower.passes()[0]!.points.reduce((sum, point) => sum + point.samples, 0);
    expect(counted).toBe(follower.samples);
  });

  it('shows what was taken since the farthest point before it knows whether that was a turn', () => {
    const { follower } = follow([
      [from(0, 100, 1), 1],
      [[99, 98], 1],
    ]);
    const counted = follower.passes()[0]!.points.reduce((sum, point) => sum + point.samples, 0);
    expect(counted).toBe(103);
  });

  it('does not start on a trembling readout', () => {
    const { follower } = follow([[[0, -0.4, 0.3, -0.2, ...from(0.5, 30, 0.5)], 1]]);
    expect(follower.passes()).toHaveLength(1);
    expect(follower.passes()[0]!.points[0]!.xMm).toBeLessThan(0);
  });

  it('refuses and counts what is no number', () => {
    const { follower, said } = follow([[[0, Number.NaN, 1], 1]]);
    expect(said).toEqual(['taken', 'refused', 'taken']);
    expect(follower.refused).toBe(1);
    expect(new PassFollower().passes()).toEqual([]);
  });
});
