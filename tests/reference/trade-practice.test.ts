import { firstSetup, toMm } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import { resultOf, stations, sweepOf } from '../unit/measure/verdict/sweep-of.ts';

// Common practice, no source.
describe('what the trade takes for granted', () => {
  it('0.001 in total from end to end is the usual limit over a 5 in bar', () => {
    const { limit, sweptLengthMm } = firstSetup();
    expect(limit).toEqual({ kind: 'end to end', mm: toMm(0.001, 'in'), overMm: null });
    expect(sweptLengthMm).toBe(toMm(5, 'in'));
  });

  // A dial that turns clockwise as the stylus is pressed rises as the surface comes toward the operator.
  it('a needle that goes clockwise on moving to the other end means that end is the higher one', () => {
    const towardTheRight = resultOf(
      sweepOf(
        stations(5, (x) => 0.0002 * x),
        { rises: 'toward' },
      ),
    );
    expect(towardTheRight.slope).toBeLessThan(0);
    expect(towardTheRight.sentence).toContain('the left end lies');
    const towardTheLeft = resultOf(
      sweepOf(stations(5, (x) => -0.0002 * x).reverse(), { rises: 'toward' }),
    );
    expect(towardTheLeft.sentence).toContain('the right end lies');
  });

  // With the indicator on the operator's side and the right end proud, the vise turns counter-clockwise:
  // right end away, or left end toward the operator.
  it.each([
    ['right', 150, 0, 'away'],
    ['left', -20, 120, 'toward'],
  ] as const)(
    'a proud right end is put right by tapping the %s end (mallet %d, pivot %d) %s',
    (end, malletMm, pivotMm, direction) => {
      const result = resultOf(
        sweepOf(
          stations(5, (x) => 0.0002 * x),
          {
            rises: 'toward',
            malletMm,
            pivot: { xMm: pivotMm, acrossMm: null },
          },
        ),
      );
      expect(result.tap).toMatchObject({ end, direction, turn: 'counter-clockwise' });
    },
  );

  // Zero one end and tap the other to zero: each pass multiplies the error by (x0 - xp)/(x1 - xp). The
  // tap-to reading has no such factor: wherever the pivot lies, one turn to it leaves nothing.
  it.each([0, 32, 63.5, 95, -60])(
    'one tap to its reading leaves nothing, with the pivot at %d mm',
    (pivotMm) => {
      const slope = 0.0004;
      const parkedMm = pivotMm > 60 ? 0 : 127;
      const result = resultOf(
        sweepOf(
          stations(5, (x) => slope * x),
          {
            rises: 'away',
            pivot: { xMm: pivotMm, acrossMm: null },
            malletMm: 160,
            parked: { xMm: parkedMm, readingMm: slope * parkedMm },
          },
        ),
      );
      const turned = (result.tapToReadingMm! - slope * parkedMm) / (parkedMm - pivotMm);
      expect(slope + turned).toBeCloseTo(0, 12);
    },
  );
});
