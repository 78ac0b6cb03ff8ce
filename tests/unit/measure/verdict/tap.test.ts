import { radiansFromArcsec } from '@taptrue/protocol';
import { judgeSweep } from '@taptrue/server/measure/verdict/judge-sweep.ts';
import {
  remainingAtMalletMm,
  remainingTurnRad,
  slopeNow,
  stopBandMm,
} from '@taptrue/server/measure/verdict/live-tap.ts';
import { readingFromSurface, surfaceFromReading } from '@taptrue/server/measure/verdict/surface.ts';
import {
  acrossShiftMm,
  isCoarseTap,
  malletAtPivot,
  parkedTooNear,
  shortestLeverMm,
  tapAdvice,
  tapToReadingMm,
} from '@taptrue/server/measure/verdict/tap.ts';
import { describe, expect, it } from 'vitest';
import { codesOf, stations, sweepOf } from './sweep-of.ts';

describe('which end, which way, which turn', () => {
  it.each([
    // b > 0: the right end lies farther away, a clockwise turn puts it right.
    [0.0004, 0, 0, 150, 'right', 'toward', 'clockwise', 0.06],
    [-0.0004, 0, 0, 150, 'right', 'away', 'counter-clockwise', 0.06],
    [0.0004, 0, 127, -20, 'left', 'away', 'clockwise', 0.0588],
    [-0.0004, 0, 127, -20, 'left', 'toward', 'counter-clockwise', 0.0588],
    // A job that sets a slope: 0.0004 is not enough of 0.001.
    [0.0004, 0.001, 0, 150, 'right', 'away', 'counter-clockwise', 0.09],
  ] as const)(
    'slope %d, target %d, pivot %d, mallet %d: %s end %s, %s, %d mm',
    (slope, target, pivot, mallet, end, direction, turn, amount) => {
      expect(tapAdvice(slope, target, pivot, mallet, 'x')).toEqual({
        end,
        direction,
        turn,
        amountMm: expect.closeTo(amount, 12),
      });
    },
  );

  // Along Y across is positive to the operator's left: far end farther left means b > 0.
  it('says far, near, left and right along Y, with the same turn', () => {
    expect(tapAdvice(0.0004, 0, 0, 150, 'y')).toMatchObject({
      end: 'far',
      direction: 'right',
      turn: 'clockwise',
    });
    expect(tapAdvice(0.0004, 0, 127, -20, 'y')).toMatchObject({ end: 'near', direction: 'left' });
  });

  it('asks for no turn of a line that is as it should be', () => {
    expect(tapAdvice(0.001, 0.001, 0, 150, 'x')).toMatchObject({ turn: 'none', amountMm: 0 });
  });
});

describe('the reading to stop at', () => {
  const ask = {
    slope: 0.0004,
    heightAtPivotMm: 0.1,
    target: 0,
    pivotMm: 20,
    acrossMm: null,
    parked: null,
    rises: 'away' as const,
    stylusFactor: 1,
  };

  it('is the height of the line at the pivot, at whatever station, for a level target', () => {
    expect(tapToReadingMm(ask)).toBe(0.1);
    expect(tapToReadingMm({ ...ask, parked: { xMm: 120, readingMm: null } })).toBe(0.1);
    expect(tapToReadingMm({ ...ask, rises: 'toward' })).toBe(-0.1);
    expect(tapToReadingMm({ ...ask, stylusFactor: 0.5 })).toBe(0.2);
  });

  it('follows what the dial shows at the parked stylus, whatever its zero', () => {
    const parked = { xMm: 120, readingMm: 5 };
    // The surface at 120 must come 0.0004 x 100 mm nearer.
    expect(tapToReadingMm({ ...ask, parked })).toBeCloseTo(4.96, 12);
    expect(tapToReadingMm({ ...ask, parked, rises: 'toward' })).toBeCloseTo(5.04, 12);
    expect(tapToReadingMm({ ...ask, parked, stylusFactor: 0.5 })).toBeCloseTo(4.92, 12);
  });

  it('depends on the station for a target slope, so there is none with nothing parked', () => {
    const sloping = { ...ask, target: 0.001 };
    expect(tapToReadingMm(sloping)).toBeNull();
    expect(tapToReadingMm({ ...sloping, parked: { xMm: 120, readingMm: null } })).toBeCloseTo(
      0.2,
      12,
    );
    expect(tapToReadingMm({ ...sloping, parked: { xMm: 120, readingMm: 5 } })).toBeCloseTo(
      5.06,
      12,
    );
    expect(
      tapToReadingMm({ ...sloping, rises: null, parked: { xMm: 120, readingMm: 5 } }),
    ).toBeNull();
  });

  it('is the same whichever way the reading rises, for a level target', () => {
    const reading = (rises: 'toward' | 'away' | null) => {
      const judged = judgeSweep(
        sweepOf(
          stations(5, (x) => 0.05 - 0.0003 * x),
          { rises, pivot: { xMm: 40, acrossMm: null } },
        ),
      );
      return judged.ok ? judged.result.tapToReadingMm : undefined;
    };
    expect(reading('toward')).toBeCloseTo(0.038, 12);
    expect(reading('away')).toBeCloseTo(0.038, 12);
    expect(reading(null)).toBeCloseTo(0.038, 12);
  });
});

describe('a pivot that lies across from the bar', () => {
  it('shifts the target by c ε²/2, and by nothing where nothing turns', () => {
    expect(acrossShiftMm(0.01, 0, 100)).toBeCloseTo((100 * 0.01 ** 2) / 2, 6);
    expect(acrossShiftMm(-0.01, 0, -100)).toBeCloseTo((-100 * 0.01 ** 2) / 2, 6);
    expect(acrossShiftMm(0.01, 0.01, 100)).toBe(0);
  });

  // Turned by exact geometry about (20, 0.1 + 100): where does the bar come to rest?
  it('is carried as exact geometry has it', () => {
    const slope = 0.02;
    const turnRad = -Math.atan(slope);
    const pivot = { x: 20, y: 100.1 };
    const end = { x: 127, y: 0.1 + slope * 107 };
    const y =
      pivot.y + (end.x - pivot.x) * Math.sin(turnRad) + (end.y - pivot.y) * Math.cos(turnRad);
    const reading = tapToReadingMm({
      slope,
      heightAtPivotMm: 0.1,
      target: 0,
      pivotMm: 20,
      acrossMm: 100,
      parked: null,
      rises: 'away',
      stylusFactor: 1,
    });
    expect(reading).toBeCloseTo(y, 12);
  });

  it('calls a tap coarse only where it would matter and has not been measured', () => {
    const limit = radiansFromArcsec(41);
    expect(isCoarseTap(0.005, 0, limit, 127)).toBe(false);
    expect(isCoarseTap(0.01, 0, limit, 127)).toBe(true);
    const coarse = (acrossMm: number | null) =>
      codesOf(
        sweepOf(
          stations(5, (x) => 0.01 * x),
          {
            pivot: { xMm: 0, acrossMm },
            malletMm: 150,
            limit: { kind: 'end to end', mm: 0.0254, overMm: null },
          },
        ),
      );
    expect(coarse(null)).toContain('coarse-tap');
    expect(coarse(80)).not.toContain('coarse-tap');
  });
});

describe('what is refused', () => {
  it('is a stylus parked nearer the pivot than a tenth of the swept length', () => {
    expect(shortestLeverMm(127)).toBeCloseTo(12.7, 12);
    expect(parkedTooNear(12.6, 0, 127, 'mm')).toMatchObject({ code: 'parked-near-pivot' });
    expect(parkedTooNear(-12.6, 0, 127, 'mm')).toMatchObject({ code: 'parked-near-pivot' });
    expect(parkedTooNear(12.8, 0, 127, 'mm')).toBeNull();
    expect(parkedTooNear(8, 0, 127, 'in')?.got).toBe(
      '0.31 in from the pivot, at least 0.50 in wanted',
    );
  });

  it('is a mallet at the pivot', () => {
    expect(malletAtPivot(50.5, 50, 'mm')).toMatchObject({ code: 'mallet-at-pivot' });
    expect(malletAtPivot(52, 50, 'mm')).toBeNull();
  });

  it('leaves the line and says the reason in the result too', () => {
    const judged = judgeSweep(
      sweepOf(
        stations(5, (x) => 0.0002 * x),
        {
          pivot: { xMm: 60, acrossMm: null },
          malletMm: 150,
          parked: { xMm: 63, readingMm: 0 },
        },
      ),
    );
    if (!judged.ok) throw new Error(judged.noLine.what);
    expect(judged.tapRefused?.code).toBe('parked-near-pivot');
    expect(judged.result.tap).toBeNull();
    expect(judged.result.tapToReadingMm).toBeNull();
    expect(judged.result.slope).toBeCloseTo(0.0002, 12);
    expect(judged.result.cautions.map((caution) => caution.code)).toContain('parked-near-pivot');
  });
});

describe('while the mallet works', () => {
  it('the slope follows the parked needle', () => {
    expect(slopeNow(0.0004, 0.02, 0.04, 120, 20)).toBeCloseTo(0.0002, 14);
    expect(remainingTurnRad(0.0002, 0)).toBeCloseTo(-0.0002, 9);
    expect(remainingAtMalletMm(0.0002, 0, 150, 20)).toBeCloseTo(-0.026, 12);
  });

  it.each(['toward', 'away'] as const)(
    'the band to stop in lies about the reading to stop at (rises %s)',
    (rises) => {
      const band = stopBandMm({
        slope: 0.0004,
        target: 0,
        limitRad: Math.atan(0.0001),
        parkedXMm: 120,
        parkedReadingMm: 1,
        pivotMm: 20,
        acrossMm: null,
        rises,
        stylusFactor: 1,
      });
      const middle = rises === 'away' ? 0.96 : 1.04;
      expect(band.lowMm).toBeCloseTo(middle - 0.01, 10);
      expect(band.highMm).toBeCloseTo(middle + 0.01, 10);
    },
  );

  it('reading and surface undo each other', () => {
    for (const rises of ['toward', 'away', null] as const) {
      expect(readingFromSurface(surfaceFromReading(0.123, rises, 0.94), rises, 0.94)).toBeCloseTo(
        0.123,
        15,
      );
    }
    expect(surfaceFromReading(1, 'toward', 1)).toBe(-1);
    expect(surfaceFromReading(1, 'away', 1)).toBe(1);
  });
});
