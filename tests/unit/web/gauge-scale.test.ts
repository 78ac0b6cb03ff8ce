import {
  gaugeScale,
  graduationDecimals,
  graduations,
  needlePlace,
  notchSpan,
  numberEvery,
} from '@taptrue/web/view/gauge-scale.ts';
import { describe, expect, it } from 'vitest';

const INCH = 25.4;

describe('the scale of the gauge', () => {
  it.each([
    ['in', 0, [0.0008 * INCH], -0.002, 0.002],
    ['in', 0, [0.0052 * INCH], -0.006, 0.006],
    ['in', 0.0021 * INCH, [-0.0028 * INCH], -0.004, 0.008],
    ['mm', 0, [0.012], -0.04, 0.04],
    ['mm', 0, [-0.21], -0.25, 0.25],
  ] as const)('in %s about %d shows %j from %d to %d', (unit, centreMm, shown, low, high) => {
    const scale = gaugeScale(unit, centreMm, shown, null);
    const perUnit = unit === 'in' ? INCH : 1;
    expect(scale.lowMm / perUnit).toBeCloseTo(low, 9);
    expect(scale.highMm / perUnit).toBeCloseTo(high, 9);
  });

  it('stays as it is while the needle moves over it', () => {
    const first = gaugeScale('in', 0, [0.005 * INCH], null);
    for (const thousandths of [4, 2, -5, 5.9]) {
      expect(gaugeScale('in', 0, [(thousandths / 1000) * INCH], first)).toBe(first);
    }
    expect(gaugeScale('in', 0, [0.0061 * INCH], first)).not.toBe(first);
  });

  it('narrows only when it has become far too wide', () => {
    const wide = gaugeScale('mm', 0, [0.9], null);
    expect(gaugeScale('mm', 0, [0.5], wide)).toBe(wide);
    expect(gaugeScale('mm', 0, [0.05], wide).highMm).toBeLessThan(wide.highMm / 5);
  });

  it('does not narrow below its least span', () => {
    const least = gaugeScale('in', 0, [], null);
    expect(gaugeScale('in', 0, [0], least)).toBe(least);
  });

  it('comes to rest: the scale made for some readings serves them', () => {
    for (let step = 1; step < 400; step += 1) {
      const centreMm = step * 0.0137;
      const shown = [centreMm + step * 0.0021, centreMm - 0.03];
      const scale = gaugeScale('in', centreMm, shown, null);
      expect(gaugeScale('in', centreMm, shown, scale), `step ${step}`).toBe(scale);
    }
  });

  it('leaves out numbers that would touch', () => {
    const scale = gaugeScale('in', 0, [], null);
    expect(numberEvery(scale, 1_000, 76)).toBe(1);
    expect(numberEvery(scale, 302, 76)).toBe(3);
  });

  it('numbers every fifth graduation and says how many decimals that needs', () => {
    const scale = gaugeScale('in', 0, [], null);
    const marks = graduations(scale);
    expect(marks).toHaveLength(41);
    expect(marks.filter(({ value }) => value !== null)).toHaveLength(9);
    expect(marks[0]?.value).toBeCloseTo(-0.002, 9);
    expect(graduationDecimals(scale)).toBe(4);
  });
});

describe('the needle', () => {
  const scale = { unit: 'mm', lowMm: -0.4, highMm: 0.4, majorMm: 0.1, minorMm: 0.02 } as const;

  it.each([
    [-0.4, 0, null],
    [0, 0.5, null],
    [0.1, 0.625, null],
    [0.4, 1, null],
    [0.41, 1, 'high'],
    [-3, 0, 'low'],
  ] as const)('at %d mm stands at %d of the scale, beyond %s', (readingMm, fraction, beyond) => {
    const place = needlePlace(readingMm, scale);
    expect(place?.fraction).toBeCloseTo(fraction, 9);
    expect(place?.beyond).toBe(beyond);
  });

  it.each([null, Number.NaN, Number.POSITIVE_INFINITY])(
    'has no place for %s: absent is not zero',
    (readingMm) => {
      expect(needlePlace(readingMm, scale)).toBeNull();
    },
  );
});

describe('the notch', () => {
  const scale = { unit: 'mm', lowMm: -0.4, highMm: 0.4, majorMm: 0.1, minorMm: 0.02 } as const;

  it('is as wide as the stop band', () => {
    const span = notchSpan({ readingMm: 0.1, lowMm: 0.05, highMm: 0.15 }, scale, 800);
    expect(span).toEqual({ fromPx: 450, toPx: 550, middlePx: 500 });
  });

  it('is never too narrow to be seen', () => {
    const span = notchSpan({ readingMm: 0.1, lowMm: 0.1, highMm: 0.1 }, scale, 800, 14);
    expect(span.toPx - span.fromPx).toBeCloseTo(14, 9);
    expect(span.middlePx).toBeCloseTo(500, 9);
  });
});
