import type { ComparedSweep } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import { boxFor, layOver } from '../../../web/places/proof/view/lay-over.ts';
import {
  LEAST_HEIGHT_MM,
  pathThrough,
  scaleFor,
} from '../../../web/places/proof/view/line-picture.ts';

const BOX = { widthPx: 120, heightPx: 40, padPx: 4 };

describe('the picture of a line', () => {
  it('has the left end at the left and away at the top', () => {
    const scale = scaleFor(
      [
        [0, -1],
        [127, 1],
      ],
      BOX,
    );
    expect([scale.xPx(0), scale.xPx(127)]).toEqual([4, 116]);
    expect([scale.yPx(1), scale.yPx(-1)]).toEqual([4, 36]);
  });

  it('of a bar that lies true is level, not stretched to the last digit of its dial', () => {
    const scale = scaleFor(
      [
        [0, 0],
        [127, 0.0005],
      ],
      BOX,
    );
    expect(scale.highMm - scale.lowMm).toBeCloseTo(LEAST_HEIGHT_MM, 12);
    expect(Math.abs(scale.yPx(0) - scale.yPx(0.0005))).toBeLessThan(1);
  });

  it('of points at one place or one height is still a picture', () => {
    for (const points of [
      [[5, 1]],
      [
        [5, 1],
        [5, 1],
      ],
      [
        [0, 0],
        [1, 0],
      ],
    ] as const)
      expect(pathThrough(points, scaleFor(points, BOX))).not.toContain('NaN');
  });
});

describe('sweeps over each other', () => {
  const sweep = (slope: number): ComparedSweep => ({
    job: 'a',
    jobNumber: 1,
    title: '',
    number: 1,
    stage: 'tight',
    endedAt: '',
    simulated: false,
    verdict: null,
    outOfTrueArcsec: 0,
    expandedArcsec: null,
    midHeightMm: 1 + 63.5 * slope,
    fromMm: 0,
    toMm: 127,
    slope,
    interceptMm: 1,
    points: [0, 63.5, 127].map((xMm) => ({
      xMm,
      pass: 'out',
      heightMm: 1 + slope * xMm,
      offMm: 0.001,
    })),
  });
  const box = boxFor(1280);

  it.each([
    ['as read', [1, 1.127]],
    ['together', [-0.0635, 0.0635]],
    ['off the line', [0.001, 0.001]],
  ] as const)('%s', (way, [first, last]) => {
    const { points } = layOver([sweep(0.001)], way, box).lines[0]!;
    expect(points[0]![1]).toBeCloseTo(first, 9);
    expect(points.at(-1)![1]).toBeCloseTo(last, 9);
  });

  it.each([1280, 390])('no two numbers stand on each other, twenty on one line, %i px', (width) => {
    const twenty = Array.from({ length: 20 }, () => sweep(0.001));
    const labels = layOver(twenty, 'together', boxFor(width)).lines.map(({ label }) => label);
    for (const [index, one] of labels.entries()) {
      for (const other of labels.slice(index + 1)) {
        const apartPx = Math.hypot(one.xPx - other.xPx, one.yPx - other.yPx);
        expect(apartPx).toBeGreaterThan(19);
      }
    }
  });

  it('the first ten have a dash of their own each', () => {
    const ten = Array.from({ length: 10 }, () => sweep(0.001));
    const dashes = layOver(ten, 'together', box).lines.map(({ dash }) => dash);
    expect(new Set(dashes).size).toBe(10);
  });
});
