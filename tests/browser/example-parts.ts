import {
  type LinkReport,
  type Reading,
  type SweepResult,
  type SweepSection,
  type SweepSummary,
  zeroCounters,
} from '@taptrue/protocol';

/** One reading of a streaming dial in inches. */
export function exampleReading(value: number, sequence = 7): Reading {
  return {
    sequence,
    atMs: 1_000,
    text: `${value < 0 ? '-' : '+'}${Math.abs(value).toFixed(5)}\\r`,
    channel: null,
    value,
    unit: 'in',
    valueMm: value * 25.4,
    decimals: 5,
    status: 'ok',
  };
}

export function exampleLink(change: Partial<LinkReport> = {}): LinkReport {
  return {
    state: 'not set',
    config: null,
    simulated: false,
    trigger: null,
    readingsPerSecond: 0,
    lastText: '',
    counters: zeroCounters(),
    fault: null,
    ...change,
  };
}

export function liveLink(simulated = true): LinkReport {
  return exampleLink({
    state: 'live',
    config: {
      source: simulated
        ? { kind: 'simulated', device: 'indicator' }
        : { kind: 'serial', path: '/dev/ttyUSB0', settings: null },
      shape: 'signed-decimal',
      unit: 'in',
      channel: null,
    },
    simulated,
    trigger: 'streams',
    readingsPerSecond: 50,
    lastText: '+0.00214\\r',
    counters: { ...zeroCounters(), bytes: 64_210, frames: 6_421, partialFramesDropped: 1 },
  });
}

/** A 5 in bar, right end farther away by 0.0034 in: slope 0.00068, 140 seconds of arc. */
export function exampleResult(change: Partial<SweepResult> = {}): SweepResult {
  const line = {
    points: 5,
    slope: 0.00068,
    slopeStandardError: 0.000012,
    interceptMm: -0.0152,
    interceptStandardErrorMm: 0.0011,
    fromMm: 0,
    toMm: 127,
    lengthMm: 127,
    residualStandardDeviationMm: 0.0012,
    straightnessLeastSquaresMm: 0.0028,
    straightnessMinimumZoneMm: 0.0024,
  };
  return {
    ...line,
    slopeInterceptCovarianceMm: -1e-9,
    outOfTrueRad: Math.atan(0.00068),
    outOfTrueArcsec: 140.3,
    outOfTrueArcsecExpanded: 6.2,
    deviationArcsec: 140.3,
    angleStandardUncertaintyArcsec: 2.9,
    degreesOfFreedom: 3,
    uncertaintyParts: [
      { name: 'scatter about the line', arcsec: 2.5 },
      { name: 'resolution of the dial', arcsec: 1.4 },
    ],
    endToEndMm: 0.08636,
    endToEndExpandedMm: 0.0038,
    robustSlope: 0.00067,
    passes: [{ pass: 'out', ...line }],
    gapMm: null,
    closureMm: null,
    tap: { end: 'right', direction: 'toward', amountMm: 0.1054, turn: 'clockwise' },
    tapToReadingMm: 0.0533,
    tapToAtMm: null,
    limitArcsec: 41.3,
    decisionRule: 'guarded',
    verdict: 'not true',
    cautions: [],
    sentence:
      'Not true: right end 0.0034 in away over 5.00 in. Tap the right end, toward you, 0.0041 in; stop at +0.0021.',
    ...change,
  };
}

export function exampleSweep(change: Partial<SweepSection> = {}): SweepSection {
  const readingsMm = [0.0152, -0.0074, -0.0275, -0.0503, -0.0711];
  return {
    id: 1,
    state: 'ended',
    stage: 'nipped',
    simulated: true,
    pass: 'out',
    points: readingsMm.map((readingMm, index) => ({
      xMm: index * 31.75,
      readingMm,
      pass: 'out',
      samples: 1,
    })),
    samples: 5,
    pairsRefused: 0,
    nextStation: null,
    feedRunning: false,
    nudgesSkipped: [],
    result: exampleResult(),
    noResultYet: '',
    outdated: '',
    zeroMoved: '',
    ...change,
  };
}

export function exampleSummary(change: Partial<SweepSummary> = {}): SweepSummary {
  return {
    id: 1,
    stage: 'nipped',
    result: exampleResult(),
    simulated: true,
    shiftArcsec: null,
    zeroMoved: null,
    ...change,
  };
}
