import { RADIANS_PER_ARCSEC } from '@taptrue/protocol';
import { buildBench } from '@taptrue/simulators/bench-build.ts';
import { Dice } from '@taptrue/simulators/random.ts';
import {
  clamp,
  strike,
  surfaceMm,
  turned,
  type ViseBuild,
  viseAt,
} from '@taptrue/simulators/vise.ts';
import { describe, expect, test } from 'vitest';

function plainVise(changes: Partial<ViseBuild> = {}): ViseBuild {
  const { vise } = buildBench({ seed: 1 });
  const pivotMm = { free: -8, nipped: -8, snug: -8, tight: -8 };
  const grip = { breakawayMm: 0.01, ease: 1, pivotScatterMm: 0 };
  return {
    ...vise,
    pivotMm,
    pivotAcrossMm: 0,
    bowMm: 0,
    chip: null,
    blowScatter: 0,
    stickProbability: 0,
    grip: { free: grip, nipped: grip, snug: grip, tight: grip },
    ...changes,
  };
}

describe('the surface under the stylus', () => {
  test('a bar turned counter-clockwise about its pivot is farther away the farther right one looks', () => {
    const vise = plainVise();
    const lying = viseAt(vise, 1e-4, 'nipped');
    for (const xMm of [0, 50, 127]) {
      expect(surfaceMm(vise, lying, xMm)).toBeCloseTo((xMm + 8) * 1e-4, 8);
    }
  });

  test('at large angles it is still the exact line through the pivot', () => {
    const vise = plainVise();
    const lying = viseAt(vise, 0.5, 'nipped');
    expect(surfaceMm(vise, lying, 60)).toBeCloseTo(68 * Math.tan(0.5), 9);
  });

  test('a pivot farther away by c lifts the line by c·ε²/2 when the bar is turned true', () => {
    const acrossMm = 50;
    const vise = plainVise();
    const angleRad = 0.01;
    const lying = viseAt(vise, angleRad, 'nipped');
    const made = turned(lying, -angleRad, { xMm: -8, yMm: acrossMm });
    const expectedMm = (acrossMm * angleRad ** 2) / 2;
    expect(surfaceMm(vise, made, 40)! / expectedMm).toBeCloseTo(1, 3);
  });

  test('a bow is highest in the middle and nothing at the ends; a chip lifts what lies right of it', () => {
    const vise = plainVise({ bowMm: 0.004, chip: { fromMm: 100, heightMm: 0.01 } });
    const lying = viseAt(vise, 0, 'nipped');
    expect(surfaceMm(vise, lying, 63.5)).toBeCloseTo(0.004, 9);
    expect(surfaceMm(vise, lying, 0)).toBeCloseTo(0, 9);
    expect(surfaceMm(vise, lying, 127)).toBeCloseTo(0.01, 9);
  });

  test('beyond the ends there is nothing under the stylus', () => {
    const vise = plainVise();
    const lying = viseAt(vise, 1e-4, 'nipped');
    expect([-5, 0, 127, 130].map((xMm) => surfaceMm(vise, lying, xMm) !== null)).toEqual([
      false,
      true,
      true,
      false,
    ]);
  });
});

describe('a blow', () => {
  const cases = [
    { place: 'right of the pivot, away', xMm: 147, way: 'away', turn: 1 },
    { place: 'right of the pivot, toward', xMm: 147, way: 'toward', turn: -1 },
    { place: 'left of the pivot, away', xMm: -60, way: 'away', turn: -1 },
    { place: 'left of the pivot, toward', xMm: -60, way: 'toward', turn: 1 },
  ] as const;
  test.each(cases)('$place turns by sense $turn (counter-clockwise plus)', (blow) => {
    const vise = plainVise();
    const lying = viseAt(vise, 0, 'nipped');
    const hit = strike(vise, lying, { ...blow, strength: 'firm' }, new Dice(1));
    expect(Math.sign(hit.turnedRad)).toBe(blow.turn);
    expect(hit.state.angleRad).toBe(hit.turnedRad);
  });

  test('that does not overcome friction moves nothing at all', () => {
    const vise = plainVise();
    const held = { breakawayMm: 1, ease: 1, pivotScatterMm: 0 };
    const stiff = { ...vise, grip: { ...vise.grip, tight: held } };
    const lying = viseAt(stiff, 1e-4, 'tight');
    const hit = strike(stiff, lying, { xMm: 147, way: 'toward', strength: 'firm' }, new Dice(1));
    expect(hit).toEqual({ state: lying, turnedRad: 0 });
  });

  test('on the pivot turns nothing', () => {
    const vise = plainVise();
    const lying = viseAt(vise, 1e-4, 'nipped');
    const hit = strike(vise, lying, { xMm: -8, way: 'away', strength: 'firm' }, new Dice(1));
    expect(hit.turnedRad).toBe(0);
  });

  test('that sticks gives part of its turn, and the next one gives the rest', () => {
    const vise = plainVise();
    const sticky = plainVise({ stickProbability: 1 });
    const blow = { xMm: 147, way: 'away', strength: 'firm' } as const;
    const lying = viseAt(vise, 0, 'nipped');
    const whole = strike(vise, lying, blow, new Dice(1)).turnedRad;
    const first = strike(sticky, lying, blow, new Dice(1));
    const second = strike(vise, first.state, blow, new Dice(2));
    expect(first.turnedRad).toBeCloseTo(0.3 * whole, 12);
    expect(first.turnedRad + second.turnedRad).toBeCloseTo(2 * whole, 12);
  });

  test('moves less the tighter the clamps are', () => {
    const { vise } = buildBench({ seed: 3 });
    const turns = (['free', 'nipped', 'snug', 'tight'] as const).map((stage) => {
      const lying = viseAt(vise, 0, stage);
      let sum = 0;
      for (let seed = 0; seed < 60; seed += 1) {
        const blow = { xMm: 147, way: 'away', strength: 'firm' } as const;
        sum += strike(vise, lying, blow, new Dice(seed)).turnedRad;
      }
      return sum;
    });
    expect([...turns].sort((a, b) => b - a)).toEqual(turns);
  });
});

describe('tightening', () => {
  test('turns by each stage passed, and skipping a stage is not possible', () => {
    const vise = plainVise({
      shift: {
        free: { meanArcsec: 0, scatterArcsec: 0 },
        nipped: { meanArcsec: 1, scatterArcsec: 0 },
        snug: { meanArcsec: 2, scatterArcsec: 0 },
        tight: { meanArcsec: 4, scatterArcsec: 0 },
      },
    });
    const tight = clamp(vise, viseAt(vise, 0, 'free'), 'tight', new Dice(1));
    expect(tight.stage).toBe('tight');
    expect(tight.angleRad / RADIANS_PER_ARCSEC).toBeCloseTo(7, 9);
  });

  test('to the stage it is at changes nothing', () => {
    const vise = plainVise();
    const lying = viseAt(vise, 1e-4, 'snug');
    expect(clamp(vise, lying, 'snug', new Dice(1))).toEqual(lying);
  });
});
