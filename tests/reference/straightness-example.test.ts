import { arcsecFromRadians } from '@taptrue/protocol';
import { fitLine, peakToValleyMm } from '@taptrue/server/measure/sweep/fit-line.ts';
import { minimumZone } from '@taptrue/server/measure/sweep/minimum-zone.ts';
import { theilSen } from '@taptrue/server/measure/sweep/robust.ts';
import { describe, expect, it } from 'vitest';
import { resultOf, sweepOf } from '../unit/measure/verdict/sweep-of.ts';

// User's guide of a laser measurement system, October 1987, section 21 "Straightness and squareness
// considerations", pages 21-2 to 21-7 (maker withheld). Positions in m, deviations in µm; slopes in µm/m.
// "computed": worked out from the published data, not printed there.
const AXIS_1 = {
  xM: [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9],
  yUm: [-0.3, 0.9, 1.5, 2.5, 2.9, 3.6, 4.2, 5.1, 5.9, 7.2],
};
const AXIS_2 = {
  xM: [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45],
  yUm: [-0.5, -1.2, -2.5, -3.8, -4.0, -4.8, -5.9, -6.2, -7.4, -8.8],
};

function lineOf({ xM, yUm }: typeof AXIS_1) {
  const outcome = fitLine(xM, yUm);
  if (!outcome.ok) throw new Error(outcome.noLine.what);
  return outcome.line;
}

const asSweep = ({ xM, yUm }: typeof AXIS_1) =>
  resultOf(sweepOf(xM.map((x, i) => ({ xMm: x * 1000, readingMm: yUm[i]! / 1000 }))));

describe.each([
  {
    name: 'axis 1',
    data: AXIS_1,
    // Published 7.65e-6 and 1.6″; its intercept is on a page that could not be opened.
    published: { slope: 7.65, slopeDigits: 2, arcsec: 1.6 },
    computed: {
      slope: 7.6545454545,
      intercept: -0.0945454545,
      seSlope: 0.27703666,
      seIntercept: 0.14789711,
      s: 0.25163104,
      arcsec: 1.578863,
      u95: 0.131772,
      leastSquares: 0.703636,
      zone: 0.65,
      zoneSlope: 7.833333,
      robust: 7.5,
    },
  },
  {
    name: 'axis 2',
    data: AXIS_2,
    // Published -17.42 µm/m, intercept -0.591 µm, -3.6″.
    published: { slope: -17.42, slopeDigits: 2, arcsec: -3.6 },
    computed: {
      slope: -17.4181818182,
      intercept: -0.5909090909,
      seSlope: 0.73615785,
      seIntercept: 0.19650037,
      s: 0.33432428,
      arcsec: -3.592758,
      u95: 0.350152,
      leastSquares: 1.083636,
      zone: 0.933333,
      zoneSlope: -16.666667,
      robust: -17.333333,
    },
  },
])('the published straightness example, $name', ({ data, published, computed }) => {
  const line = lineOf(data);
  const result = asSweep(data);

  it('has the published slope and angle', () => {
    expect(line.slope).toBeCloseTo(published.slope, published.slopeDigits);
    expect(result.outOfTrueArcsec).toBeCloseTo(published.arcsec, 1);
  });

  it('has the computed line and standard errors', () => {
    expect(line.slope).toBeCloseTo(computed.slope, 9);
    expect(line.interceptMm).toBeCloseTo(computed.intercept, 9);
    expect(line.slopeStandardError).toBeCloseTo(computed.seSlope, 7);
    expect(line.interceptStandardErrorMm).toBeCloseTo(computed.seIntercept, 7);
    expect(line.residualStandardDeviationMm).toBeCloseTo(computed.s, 7);
  });

  it('has the computed angle and its expanded uncertainty, with plain n - 2', () => {
    expect(result.outOfTrueArcsec).toBeCloseTo(computed.arcsec, 6);
    expect(result.outOfTrueArcsecExpanded).toBeCloseTo(computed.u95, 6);
    expect(result.degreesOfFreedom).toBeCloseTo(8, 9);
  });

  it('has the computed straightness by least squares and by minimum zone, in that order of size', () => {
    const zone = minimumZone(data.xM, data.yUm);
    expect(peakToValleyMm(line.residualsMm)).toBeCloseTo(computed.leastSquares, 6);
    expect(zone.widthMm).toBeCloseTo(computed.zone, 6);
    expect(zone.slope).toBeCloseTo(computed.zoneSlope, 6);
    expect(result.straightnessLeastSquaresMm).toBeCloseTo(computed.leastSquares / 1000, 9);
    expect(result.straightnessMinimumZoneMm).toBeCloseTo(computed.zone / 1000, 9);
    const last = data.yUm.at(-1)!;
    const chord = data.yUm.map((y, i) => y - data.yUm[0]! - ((last - data.yUm[0]!) * i) / 9);
    expect(peakToValleyMm(chord)).toBeGreaterThan(computed.leastSquares);
  });

  it('has the computed Theil-Sen slope', () => {
    expect(theilSen(data.xM, data.yUm)!.slope).toBeCloseTo(computed.robust, 6);
  });

  it('is called straight: none of its scatter is named a fault', () => {
    expect(result.cautions).toEqual([]);
  });
});

describe('axis 2 of the published straightness example', () => {
  // As printed, with the signs of the second and sixth corrected (their points lie above the line).
  it('has the ten published residuals', () => {
    const published = [0.09, 0.262, -0.167, -0.596, 0.08, 0.146, -0.083, 0.488, 0.159, -0.37];
    const residuals = [...lineOf(AXIS_2).residualsMm];
    residuals.forEach((residual, index) => {
      expect(Math.abs(residual - published[index]!)).toBeLessThan(0.006);
    });
  });

  it('is out of square to axis 1 by the published -5.2″', () => {
    const difference =
      Math.atan(lineOf(AXIS_2).slope * 1e-6) - Math.atan(lineOf(AXIS_1).slope * 1e-6);
    expect(arcsecFromRadians(difference)).toBeCloseTo(-5.2, 1);
    expect(arcsecFromRadians(difference)).toBeCloseTo(-5.171621, 6);
  });
});
