import { fitLine, heightAt, uncertaintyAt } from '@taptrue/server/measure/sweep/fit-line.ts';
import { describe, expect, it } from 'vitest';

// JCGM 100:2008 (GUM), H.3, Table H.6: calibration of a thermometer by a straight line, reference 20 °C.
const T = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
const B = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
const REFERENCE = 20;

function lineOf(offset = 0) {
  const outcome = fitLine(
    T.map((t) => t - REFERENCE),
    B.map((b) => b + offset),
  );
  if (!outcome.ok) throw new Error(outcome.noLine.what);
  return outcome.line;
}

describe('the calibration line of the GUM, H.3', () => {
  const line = lineOf();

  it('has the published intercept, slope and standard uncertainties', () => {
    expect(line.interceptMm).toBeCloseTo(-0.1712, 4);
    expect(line.interceptStandardErrorMm).toBeCloseTo(0.0029, 4);
    expect(line.slope).toBeCloseTo(0.00218, 5);
    expect(line.slopeStandardError).toBeCloseTo(0.00067, 5);
    // Residual sum of squares as a public implementation of the example prints it.
    expect(line.sumSquaresResidualMm2).toBeCloseTo(0.000110096583109, 14);
  });

  it('has more digits worked out from the same data', () => {
    expect(line.interceptMm).toBeCloseTo(-0.17120379013135, 13);
    expect(line.interceptStandardErrorMm).toBeCloseTo(0.00287759783515995, 13);
    expect(line.slope).toBeCloseTo(0.00218269773988728, 13);
    expect(line.slopeStandardError).toBeCloseTo(0.000667938773227832, 13);
    expect(line.residualStandardDeviationMm).toBeCloseTo(0.00349756396350528, 13);
  });

  it('has the published correlation of intercept and slope, -0.930', () => {
    const correlation =
      line.slopeInterceptCovarianceMm! /
      (line.slopeStandardError! * line.interceptStandardErrorMm!);
    expect(correlation).toBeCloseTo(-0.93, 3);
    expect(correlation).toBeCloseTo(-0.930429603093446, 12);
  });

  // Outside the data: without the covariance the uncertainty would come out as 0.0073.
  it('predicts -0.1494 at 30 °C with u 0.0041', () => {
    expect(heightAt(line, 30 - REFERENCE)).toBeCloseTo(-0.1494, 4);
    expect(uncertaintyAt(line, 30 - REFERENCE)).toBeCloseTo(0.0041, 4);
    expect(uncertaintyAt(line, 30 - REFERENCE)).toBeCloseTo(0.004138595753, 12);
    const { interceptStandardErrorMm: a, slopeStandardError: b } = line;
    const viaCovariance = a! ** 2 + 100 * b! ** 2 + 20 * line.slopeInterceptCovarianceMm!;
    expect(Math.sqrt(viaCovariance)).toBeCloseTo(0.004138595753, 12);
  });

  it('has uncorrelated height and slope at the mean, 24.0085 °C, where u is 0.0011 (from memory, H.3.5)', () => {
    expect(line.meanXMm + REFERENCE).toBeCloseTo(24.0085, 4);
    expect(line.meanYMm).toBeCloseTo(-0.1625, 4);
    expect(uncertaintyAt(line, line.meanXMm)).toBeCloseTo(0.00105455521, 11);
  });

  // Same public implementation: an offset common to all points changes neither slope nor its uncertainty.
  it('keeps slope and its uncertainty when every reading carries the same offset', () => {
    const moved = lineOf(0.005);
    expect(moved.slope).toBeCloseTo(line.slope, 15);
    expect(moved.slopeStandardError).toBeCloseTo(line.slopeStandardError!, 15);
    expect(moved.interceptMm).toBeCloseTo(line.interceptMm + 0.005, 14);
  });
});
