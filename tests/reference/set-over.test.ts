import { reversal } from '@taptrue/server/set-ups/reversal.ts';
import {
  setOverMm,
  slopeOfTaperPerFoot,
  taperOnDiameterMm,
  taperPerFootMm,
} from '@taptrue/server/set-ups/taper.ts';
import { describe, expect, it } from 'vitest';
import { lineCsv, runOn } from '../unit/set-ups/run-cli.ts';

const INCH = 25.4;

describe('set-over of the tailstock', () => {
  // J. Rose, Modern Machine-Shop Practice (1887): an inch per foot on work three feet long wants half of three inches.
  it("is Rose's inch and a half", () => {
    expect(setOverMm(1 * INCH, 36 * INCH) / INCH).toBeCloseTo(1.5, 12);
  });

  // Worked examples of teaching pages: 0.0625 in per inch on 15 in; 2.000 to 1.500 in over 4 of 10 in.
  it.each([
    [0.0625 * 12, 15, 0.46875],
    [((2 - 1.5) / 4) * 12, 10, 0.625],
  ])('a taper of %d in per foot on %d in wants %d in', (perFoot, length, setOver) => {
    expect(setOverMm(perFoot * INCH, length * INCH) / INCH).toBeCloseTo(setOver, 12);
  });

  // The rule S = L (D - d) / (2 l), the other way round: the taper that a set-over found makes.
  it('a bar out by s over its length is a taper of twice s', () => {
    expect(taperOnDiameterMm(0.0005, 457.2)).toBeCloseTo(2 * 0.0005 * 457.2, 12);
  });

  it('is what taptrue fit tells of 18 in from the headstock', async () => {
    const csv = lineCsv((x) => 0.0002 * x);
    const { out } = await runOn(
      'fit',
      csv,
      '--setup',
      'between-centres',
      '--from-headstock',
      '18in',
      '--rises',
      'away',
      '--json',
    );
    const result = JSON.parse(out);
    // Slope 0.0002 over 18 in: 0.0036 in, and on the diameter 0.0072 in.
    expect(result.correction.amountMm / INCH).toBeCloseTo(0.0036, 9);
    expect(result.taper.onDiameterMm / INCH).toBeCloseTo(0.0072, 9);
  });
});

describe('taper per foot', () => {
  // Turning and Boring Tapers, Derry Collard 1902: total taper per foot for an included angle, rounded there to
  // some 0.0002 in.
  it.each([
    [1, 0.20952],
    [2, 0.4188],
    [3, 0.62832],
    [30, 0.5359 * 12],
    [45, 0.82842 * 12],
  ])('an included angle of %d degrees is %d in', (included, perFoot) => {
    const slope = Math.tan((included / 2) * (Math.PI / 180));
    expect(Math.abs(taperPerFootMm(slope) / INCH - perFoot)).toBeLessThan(2e-4);
  });

  // Morse tapers, taper per foot and half angle as in handbooks and DIN 228-1, from memory.
  it.each([
    ['1', 0.59858, [1, 25, 43]],
    ['2', 0.59941, [1, 25, 50]],
    ['3', 0.60235, [1, 26, 16]],
    ['4', 0.62326, [1, 29, 15]],
    ['5', 0.63151, [1, 30, 26]],
  ] as const)('Morse %s: %d in per foot stands at its half angle', (_name, perFoot, [d, m, s]) => {
    const seconds = (Math.atan(slopeOfTaperPerFoot(perFoot * INCH)) * 180 * 3600) / Math.PI;
    expect(Math.abs(seconds - (d * 3600 + m * 60 + s))).toBeLessThan(1);
  });
});

describe('shim arithmetic', () => {
  // Similar triangles: 0.02 mm in 100 mm of level is 0.04 mm under feet 200 mm apart; common practice, no source.
  it.each([
    [200, 0.04],
    [50, 0.01],
    [500, 0.1],
  ])('feet %d mm apart want %d mm', async (spacing, shim) => {
    const csv = lineCsv((x) => 0.0002 * x);
    const { out } = await runOn(
      'fit',
      csv,
      '--setup',
      'bed',
      '--foot-spacing',
      `${spacing}mm`,
      '--rises',
      'toward',
      '--json',
    );
    expect(JSON.parse(out).correction).toMatchObject({
      kind: 'shim',
      amountMm: expect.closeTo(shim, 9),
      direction: 'up',
      where: 'left foot',
    });
  });
});

describe('reversal', () => {
  // The square turned round: readings of 5 and 1 units lean are an upright of 3 and a square of 2 (textbook
  // two-way reversal, from memory).
  it('parts what was turned from what was kept', () => {
    expect(reversal(5, 1)).toMatchObject({ kept: 3, turned: 2 });
    expect(reversal(-1, -1)).toMatchObject({ kept: -1, turned: 0 });
    const { keptStandard, turnedStandard } = reversal(5, 1, 3, 4);
    expect(keptStandard).toBeCloseTo(2.5, 12);
    expect(turnedStandard).toBeCloseTo(2.5, 12);
  });

  it('gives both back from any pair', () => {
    for (const [kept, turned] of [
      [3e-4, -1e-4],
      [-2e-5, 7e-4],
    ] as const) {
      const found = reversal(kept + turned, kept - turned);
      expect(found.kept).toBeCloseTo(kept, 12);
      expect(found.turned).toBeCloseTo(turned, 12);
    }
  });
});
