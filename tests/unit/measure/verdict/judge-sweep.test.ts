import { checkerOf, SweepResult } from '@taptrue/protocol';
import { judgeSweep } from '@taptrue/server/measure/verdict/judge-sweep.ts';
import type { SweepInput, SweepPoint } from '@taptrue/server/measure/verdict/sweep-input.ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resultOf, stations, sweepOf } from './sweep-of.ts';

const { check } = checkerOf(SweepResult);
const OPPOSITE_END = { left: 'right', right: 'left', near: 'far', far: 'near' } as const;
const OPPOSITE_TURN = {
  clockwise: 'counter-clockwise',
  'counter-clockwise': 'clockwise',
  none: 'none',
} as const;

const readings = fc.array(fc.integer({ min: -200, max: 200 }), { minLength: 2, maxLength: 20 });
const places = fc.record({
  pivotMm: fc.integer({ min: -20, max: 147 }),
  malletMm: fc.integer({ min: -40, max: 170 }),
});

/** Whole micrometres at whole steps of 5 mm. */
const pointsOf = (counts: readonly number[]): SweepPoint[] =>
  counts.map((count, index) => ({ xMm: index * 5, readingMm: count / 1000 }));

const asked = (points: SweepPoint[], pivotMm: number, malletMm: number): SweepInput =>
  sweepOf(points, {
    rises: 'toward',
    pivot: { xMm: pivotMm, acrossMm: null },
    malletMm,
    limit: { kind: 'end to end', mm: 0.02, overMm: null },
    resolutionMm: 0.001,
  });

describe('one sweep judged', () => {
  it('fits the one schema, whatever the readings', () => {
    fc.assert(
      fc.property(readings, readings, places, (out, back, { pivotMm, malletMm }) => {
        const input = asked([], pivotMm, malletMm);
        const passes = [
          { pass: 'out' as const, points: pointsOf(out) },
          { pass: 'back' as const, points: pointsOf(back).reverse() },
        ];
        expect(check(resultOf({ ...input, passes }))).toMatchObject({ ok: true });
        expect(check(resultOf(asked(pointsOf(out), pivotMm, malletMm)))).toMatchObject({
          ok: true,
        });
      }),
    );
  });

  it('gives mirrored advice for a mirrored sweep', () => {
    fc.assert(
      fc.property(readings, places, (counts, { pivotMm, malletMm }) => {
        fc.pre(Math.abs(pivotMm - malletMm) > 1);
        const points = pointsOf(counts);
        const mirrored = points.map(({ xMm, readingMm }) => ({ xMm: -xMm, readingMm }));
        const one = resultOf(asked(points, pivotMm, malletMm));
        const two = resultOf(asked(mirrored, -pivotMm, -malletMm));
        expect(two.slope).toBeCloseTo(-one.slope, 14);
        expect(two.tap!.end).toBe(OPPOSITE_END[one.tap!.end]);
        expect(two.tap!.amountMm).toBeCloseTo(one.tap!.amountMm, 11);
        expect(two.tapToReadingMm).toBeCloseTo(one.tapToReadingMm!, 11);
        expect(two.verdict).toBe(one.verdict);
        // A slope that is nothing but rounding has no direction to mirror.
        if (Math.abs(one.slope) > 1e-15) {
          expect(two.tap!.turn).toBe(OPPOSITE_TURN[one.tap!.turn]);
          expect(two.tap!.direction).toBe(one.tap!.direction);
        }
      }),
    );
  });

  it('gives the opposite way, the same end and amount, where the dial counts the other way', () => {
    fc.assert(
      fc.property(readings, places, (counts, { pivotMm, malletMm }) => {
        fc.pre(Math.abs(pivotMm - malletMm) > 1);
        const input = asked(pointsOf(counts), pivotMm, malletMm);
        const one = resultOf(input);
        fc.pre(Math.abs(one.slope) > 1e-12);
        const two = resultOf({ ...input, rises: 'away' });
        expect(two.tap).toEqual({
          ...one.tap!,
          direction: one.tap!.direction === 'away' ? 'toward' : 'away',
          turn: OPPOSITE_TURN[one.tap!.turn],
        });
        expect(two.tapToReadingMm).toBeCloseTo(one.tapToReadingMm!, 12);
      }),
    );
  });

  it('keeps slope, amount and verdict when the indicator is zeroed elsewhere', () => {
    fc.assert(
      fc.property(readings, fc.integer({ min: -3000, max: 3000 }), (counts, offset) => {
        const one = resultOf(asked(pointsOf(counts), 0, 150));
        const two = resultOf(asked(pointsOf(counts.map((count) => count + offset)), 0, 150));
        expect(two.slope).toBeCloseTo(one.slope, 13);
        expect(two.tap!.amountMm).toBeCloseTo(one.tap!.amountMm, 10);
        expect(two.tapToReadingMm! - offset / 1000).toBeCloseTo(one.tapToReadingMm!, 10);
      }),
    );
  });

  it('grows with its readings, and keeps the angle when everything grows', () => {
    fc.assert(
      fc.property(readings, fc.integer({ min: 2, max: 30 }), (counts, times) => {
        const one = resultOf(sweepOf(pointsOf(counts)));
        const steeper = resultOf(sweepOf(pointsOf(counts.map((count) => count * times))));
        expect(steeper.slope).toBeCloseTo(times * one.slope, 12);
        const larger = resultOf(
          sweepOf(
            pointsOf(counts).map(({ xMm, readingMm }) => ({
              xMm: xMm * times,
              readingMm: readingMm * times,
            })),
          ),
        );
        expect(larger.slope).toBeCloseTo(one.slope, 13);
        expect(larger.straightnessMinimumZoneMm).toBeCloseTo(
          times * one.straightnessMinimumZoneMm,
          10,
        );
      }),
    );
  });

  it('does not depend on the order of the stations', () => {
    fc.assert(
      fc.property(readings, (counts) => {
        const points = pointsOf(counts);
        const shuffled = [...points].sort((a, b) => ((a.xMm * 7) % 13) - ((b.xMm * 7) % 13));
        const one = resultOf(sweepOf(points));
        const two = resultOf(sweepOf(shuffled));
        expect(two.slope).toBeCloseTo(one.slope, 13);
        expect(two.straightnessMinimumZoneMm).toBeCloseTo(one.straightnessMinimumZoneMm, 12);
        if (one.outOfTrueArcsecExpanded !== null) {
          expect(two.outOfTrueArcsecExpanded).toBeCloseTo(one.outOfTrueArcsecExpanded, 6);
        }
      }),
    );
  });

  it('gives bit for bit the same result again', () => {
    const input = asked(pointsOf([3, 9, 4, 11, 15, 20]), 0, 150);
    expect(JSON.stringify(judgeSweep(input))).toBe(JSON.stringify(judgeSweep(input)));
  });

  it.each<[string, SweepPoint[], string]>([
    ['no point', [], 'too-few-points'],
    ['one point', [{ xMm: 1, readingMm: 2 }], 'too-few-points'],
    [
      'two points at one place',
      [
        { xMm: 1, readingMm: 2 },
        { xMm: 1, readingMm: 3 },
      ],
      'not-enough-travel',
    ],
    [
      'a position that is no number',
      [
        { xMm: Number.NaN, readingMm: 2 },
        { xMm: 1, readingMm: 3 },
      ],
      'not-a-number',
    ],
    [
      'a reading that is no number',
      [
        { xMm: 0, readingMm: 2 },
        { xMm: 1, readingMm: Number.POSITIVE_INFINITY },
      ],
      'not-a-number',
    ],
  ])('gives a reason in words for %s', (_name, points, code) => {
    const judged = judgeSweep(sweepOf(points));
    expect(judged).toMatchObject({ ok: false, noLine: { code } });
    if (!judged.ok) expect(judged.noLine.remedy).not.toBe('');
  });

  it('gives a reason where no pass was taken at all', () => {
    expect(judgeSweep(sweepOf([], { passes: [] }))).toMatchObject({ ok: false });
  });
});

describe('the one sentence', () => {
  const inch = 25.4;
  const sweep = (endToEndIn: number, changes: Partial<SweepInput> = {}) =>
    resultOf(
      sweepOf(
        stations(5, (x) => (-endToEndIn * inch * x) / 127 + 0.0021 * inch),
        {
          displayUnit: 'in',
          rises: 'toward',
          resolutionMm: 0.0001 * inch,
          limit: { kind: 'end to end', mm: 0.001 * inch, overMm: null },
          ...changes,
        },
      ),
    ).sentence;
  const tap = { pivot: { xMm: 0, acrossMm: null }, malletMm: 127 };

  it.each([
    [
      'an instruction',
      sweep(-0.0034, tap),
      'Tap the right end, away from you, 0.0034 in; stop at +0.0021.',
    ],
    [
      'the other end',
      sweep(-0.0034, { ...tap, malletMm: -25.4 }),
      'Tap the left end, toward you, 0.0007 in; stop at +0.0021.',
    ],
    [
      'along Y',
      sweep(-0.0034, { ...tap, axis: 'y' }),
      'Tap the far end, to the left, 0.0034 in; stop at +0.0021.',
    ],
    ['what is proved', sweep(0.0003), 'True within 0.0004 in over 5.0000 in; limit 0.0010 in.'],
    [
      'compared plainly',
      sweep(0.0003, { decisionRule: 'plain' }),
      'True within 0.0003 in over 5.0000 in; limit 0.0010 in.',
    ],
    [
      'not true',
      sweep(0.003),
      'Not true: the right end lies 0.0030 in farther away over 5.0000 in; limit 0.0010 in.',
    ],
    [
      'not true along Y',
      sweep(-0.003, { axis: 'y' }),
      'Not true: the far end lies 0.0030 in farther right over 5.0000 in; limit 0.0010 in.',
    ],
    [
      'a sense not known',
      sweep(0.003, { rises: null }),
      'Not true: by 0.0030 in over 5.0000 in, which way is not known; limit 0.0010 in.',
    ],
    [
      'too close',
      sweep(0.001),
      'Too close to call: 0.0010 in ± 0.0001 in over 5.0000 in; limit 0.0010 in.',
    ],
    [
      'too close with a tap',
      sweep(0.001, tap),
      'Too close to call: 0.0010 in ± 0.0001 in over 5.0000 in; limit 0.0010 in. Tap the right end, toward you, 0.0010 in; stop at +0.0021.',
    ],
    [
      'no limit',
      sweep(-0.003, { limit: null }),
      'Out of true: the left end lies 0.0030 in farther away over 5.0000 in.',
    ],
    [
      'a limit over another length',
      sweep(0.0003, { limit: { kind: 'end to end', mm: 0.0254, overMm: 101.6 } }),
      'True within 0.0004 in over 5.0000 in; limit 0.0010 in over 4.0000 in.',
    ],
  ])('says %s', (_name, sentence, expected) => {
    expect(sentence).toBe(expected);
  });
});
